import type { Kysely } from 'kysely';
import { z } from 'zod';
import { listSchema } from '../../shared/api-types/common.js';
import { excursionSchema } from '../../shared/api-types/excursion.js';
import { densitySchema, profileSchema, traceSchema } from '../../shared/api-types/trace.js';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { writeCursor } from '../../shared/records/page.js';
import type { Database } from '../../shared/records/tables.js';
import type { TraceReader } from '../../shared/traces/trace-store.js';
import { readRowGroups } from '../../shared/traces/row-groups.js';
import { currentStep, voltageStep } from '../../shared/weld/rows/density.js';
import { readDensity } from '../../shared/records/densities.js';
import { problemError } from './problem-error.js';
import { endedRows } from '../../shared/weld/rows/ended-rows.js';
import { judgedSeries } from '../../shared/weld/along/judged-series.js';
import { judgedTrace } from '../../shared/weld/along/judged-trace.js';
import { profile } from '../../shared/weld/along/profile.js';
import { binColumns, wayColumns } from '../../shared/weld/along/profile-bins.js';
import { tidy } from '../../shared/weld/run/run-figures.js';
import { rowLength } from '../../shared/weld/rows/row.js';
import { speedColumns, thinTrace } from '../../shared/weld/along/thin-trace.js';
import { bucketColumns } from '../../shared/weld/along/trace-bucket.js';
import { profileDegrees, withDegrees } from './along-degrees.js';
import { formatQuery, numberQuery, pageQuery, pageRequest, wholeQuery } from './query-values.js';
import { listAnswer, route, type Route } from './route.js';
import { excursionsCsv, profileCsv, traceCsv } from './run-csv.js';
import { runGeometry } from './run-geometry.js';
import { runOrProblem, runParams } from './run-routes.js';
import { runZones } from './run-zones.js';

const mostPoints = 20_000;
/** Enough for a screen's width with room to spare. */
const usualPoints = 1500;
/** s or mm: further than any run reaches. */
const furthest = 1e9;
const usualBin = 10;

const traceQuery = z.strictObject({
  axis: z.enum(['time', 'travelled', 'seamPosition']).optional().meta({ description: 'time if left out' }),
  from: numberQuery(-furthest, furthest).meta({ description: 's from the start, mm travelled, or mm from the datum' }),
  to: numberQuery(-furthest, furthest),
  points: wholeQuery(1, mostPoints).meta({ description: `Number of buckets per arc at most; ${usualPoints} if left out` }),
  arc: wholeQuery(1, 6).meta({ description: 'Only this arc' }),
  format: formatQuery,
  judged: z.enum(['true', 'false']).optional().meta({ description: 'true adds the values that are judged, for which the whole run is read' }),
});

const profileQuery = z.strictObject({
  bin: numberQuery(1, 10_000).meta({ description: `Width of a bin, mm; ${usualBin} if left out` }),
  format: formatQuery,
});

/** What a run's rows show, over time or along the seam, and where the run left its procedure's windows. */
export function traceRoutes(records: Kysely<Database>, runs: AnsweredRuns, traces: TraceReader, zone: () => string): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/runs/{id}/trace', group: 'runs',
        summary: 'The rows of a run, thinned',
        params: runParams, query: traceQuery,
        answers: { 200: { description: 'Columns of each arc', schema: traceSchema, csv: true } },
        problems: [404], unchecked: true,
      },
      async ({ params, query }) => {
        const run = await runOrProblem(records, params.id);
        const { axis = 'time', from, to, points = usualPoints, arc, judged, format } = query;
        const geometry = await runGeometry(records, runs, run);
        // On the time axis only the requested rows need to be read; a place does not say where its rows are.
        const first = axis === 'time' && from !== undefined ? rowAt(geometry.start + from * 1e6) : undefined;
        const end = axis === 'time' && to !== undefined ? rowAt(geometry.start + to * 1e6) + 1 : undefined;
        const trace = thinTrace({
          ...geometry, axis, from, to, points,
          arcs: arcsOf(traces, run.id, arc).map((own) => ({ arc: own, stretches: traces.readArcColumns(run.id, own, bucketColumns, first, end) })),
          runRows: traces.readRunColumns(run.id, speedColumns, first, end),
          extent: traces.extent(run.id),
        });
        // Whether a value is judged may depend on everything before it.
        const series = judged === 'true' ? judgedSeries(endedRows(readRowGroups(traces, run.id), geometry.outAt), geometry.parameters, run.state === 'finished').filter((own) => arc === undefined || own.arc === null || own.arc === arc) : null;
        const { circumference } = geometry;
        const rows = { ...trace, arcs: trace.arcs.map((own) => withDegrees(own, axis, circumference)) };
        const whole = series === null ? rows : { ...rows, judged: judgedTrace(series, { ...geometry, axis, from, to, points }).map((own) => withDegrees(own, axis, circumference)) };
        return format === 'csv' ? traceCsv(run, whole, zone()) : { status: 200, body: { ...whole, zones: runZones(geometry, traces, run.id) } };
      },
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}/profile', group: 'runs',
        summary: 'The run along its seam, bin by bin',
        params: runParams, query: profileQuery,
        answers: { 200: { description: 'Columns along the seam', schema: profileSchema, csv: true } },
        problems: [404], unchecked: true,
      },
      async ({ params, query: { bin = usualBin, format } }) => {
        const run = await runOrProblem(records, params.id);
        const geometry = await runGeometry(records, runs, run);
        const arcs = arcsOf(traces, run.id).map((arc) => ({ arc, stretches: traces.readArcColumns(run.id, arc, binColumns) }));
        const columns = profileDegrees(profile({ ...geometry, bin, arcs, runRows: traces.readRunColumns(run.id, wayColumns) }), geometry.circumference);
        return format === 'csv' ? profileCsv(run, columns) : { status: 200, body: columns };
      },
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}/density', group: 'runs',
        summary: 'How long an arc was at which voltage and current, from blocks of samples at most 5 ms apart',
        params: runParams, query: z.strictObject({ arc: wholeQuery(1, 6).meta({ description: '1 if left out' }) }),
        answers: { 200: { description: 'The cells in which the arc was', schema: densitySchema } },
        problems: [404],
      },
      async ({ params, query: { arc = 1 } }) => {
        const run = await runOrProblem(records, params.id);
        const cells = await readDensity(records, run.id, arc);
        if (cells === undefined || cells.length === 0) throw problemError(404, `Arc ${arc} of this run sent no blocks of samples at most 5 ms apart while it was on, and slower data cannot show the density.`);
        return { status: 200, body: tidy({ arc, voltageStep, currentStep, cells: cells.map((own) => [...own]), seconds: cells.reduce((sum, [, , seconds]) => sum + seconds, 0) }) };
      },
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}/excursions', group: 'runs',
        summary: 'Stretches of a run out of limits, newest first',
        params: runParams, query: z.strictObject({ ...pageQuery, format: formatQuery }),
        answers: { 200: { description: 'A page of excursions', schema: listSchema(excursionSchema), csv: true } },
        problems: [404],
      },
      async ({ params, query }) => {
        const run = await runOrProblem(records, params.id);
        // A sheet holds all of them, as it has no pages.
        if (query.format === 'csv') return excursionsCsv(run, await runs.excursions(run), zone());
        const { limit, after } = pageRequest('excursions', query);
        const page = await runs.excursionPage(run, after?.at ?? 0, limit);
        return listAnswer(page.items, page.next === null ? null : writeCursor('excursions', { at: page.next, id: '' }));
      },
    ),
  ];
}

function rowAt(time: number): number {
  return Math.floor(time / rowLength);
}

/** Arcs that have rows; an arc that is requested before it is lit has none yet. */
function arcsOf(traces: TraceReader, run: string, only?: number): number[] {
  return traces.arcs(run).filter((arc) => only === undefined || arc === only);
}
