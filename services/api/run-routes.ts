import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { assignmentRequestSchema } from '../../shared/api-types/assignment.js';
import { listSchema } from '../../shared/api-types/common.js';
import { runNamesSchema, runSchema } from '../../shared/api-types/run.js';
import { writeCursor } from '../../shared/records/page.js';
import { runNames } from '../../shared/records/run-names.js';
import { listName, readSortKey, runOrders, type RunSorting } from '../../shared/records/run-order.js';
import { findRun, listRuns, type StoredRun } from '../../shared/records/runs.js';
import type { Database } from '../../shared/records/tables.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './check-request.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { booleanQuery, nameQuery, noCursor, pageQuery, pageRequest, textQuery, timeOf, timeQuery, wholeQuery } from './query-values.js';
import { jsonBody, listAnswer, route, type Route } from './route.js';

/** Ids are opaque; an unknown one is not found. */
export const runParams = z.strictObject({ id: z.string().min(1).max(200) });

const group = 'runs';

/** The run with that id. Throws a problem if there is none. */
export async function runOrProblem(records: Kysely<Database>, id: string): Promise<StoredRun> {
  const run = await findRun(records, id);
  if (run === undefined) throw problemError(404, 'There is no run of this id.');
  return run;
}

/** Runs: the list, one of them, and its assignment. */
export function runRoutes(port: IngestPort, records: Kysely<Database>, runs: AnsweredRuns, log: Logger): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/runs', group,
        summary: 'Runs, newest first',
        query: z.strictObject({
          ...pageQuery,
          from: timeQuery.meta({ description: 'Runs that began at this time or later' }),
          to: timeQuery.meta({ description: 'Runs that began before this time' }),
          site: nameQuery,
          carriage: nameQuery,
          state: z.enum(['welding', 'finished']).optional(),
          seam: textQuery,
          run: wholeQuery(1, 9999),
          assigned: booleanQuery,
          procedure: textQuery.meta({ description: 'The procedure named by the assignment, whether it exists or not' }),
          operator: textQuery,
          lot: textQuery.meta({ description: 'Lot of flux or wire, exact' }),
          excursions: booleanQuery.meta({ description: 'true: runs with excursions; false: runs without' }),
          complete: booleanQuery,
          judged: booleanQuery.meta({ description: 'true: runs to which limits applied; false: the others' }),
          search: textQuery.meta({ description: 'Words separated by spaces, each of which occurs in the name of the seam or carriage; not case-sensitive' }),
          order: z.enum(runOrders).optional().meta({ description: 'startedAt if left out. Runs without the value come last; the length of a run being welded is not known' }),
          direction: z.enum(['asc', 'desc']).optional().meta({ description: 'If left out: asc for seam, desc for the others' }),
        }),
        answers: { 200: { description: 'A page of runs', schema: listSchema(runSchema) } },
        unchecked: true,
      },
      async ({ query }) => {
        const { from, to, order = 'startedAt', direction = order === 'seam' ? 'asc' : 'desc', ...filter } = query;
        const sorting: RunSorting = { order, direction };
        const list = listName(sorting);
        const asked = pageRequest(list, query);
        if (list !== 'runs' && asked.after !== null && readSortKey(asked.after) === undefined) throw noCursor();
        const page = await listRuns(records, { ...filter, from: timeOf(from), to: timeOf(to) }, asked, sorting);
        return listAnswer(await runs.records(page.rows), page.next === null ? null : writeCursor(list, page.next));
      },
    ),
    route(
      {
        method: 'get', path: '/api/run-names', group,
        summary: 'Names to filter runs by',
        answers: { 200: { description: 'At most 1,000 of each kind, from the newest runs', schema: runNamesSchema } },
      },
      async () => ({ status: 200, body: await runNames(records) }),
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}', group,
        summary: 'One run with its figures',
        params: runParams,
        answers: { 200: { description: 'The run', schema: runSchema } },
        problems: [404],
      },
      async ({ params }) => ({ status: 200, body: await runs.record(await runOrProblem(records, params.id)) }),
    ),
    route(
      {
        method: 'put', path: '/api/runs/{id}/assignment', group,
        summary: 'Assign a finished run that had no assignment, or correct its assignment; its figures are then computed anew',
        params: runParams, body: jsonBody(assignmentRequestSchema),
        answers: { 200: { description: 'The run as computed anew', schema: runSchema } },
        problems: [404, 409],
      },
      async ({ params, body }) => {
        const { by, reason, ...given } = body;
        const assignment = checkedAssignment(given);
        const { state } = await runOrProblem(records, params.id);
        if (state === 'welding') throw problemError(409, 'The run is being welded: assign its carriage, or wait until it is finished.');
        granted(await port.assignRun(params.id, assignment, { by: by ?? 'local', reason: reason ?? null }));
        log.info({ id: params.id, seam: assignment.seam, run: assignment.run, actor: 'local', by: by ?? 'local', reason: reason ?? null }, 'run assigned');
        return { status: 200, body: await runs.record(await runOrProblem(records, params.id)) };
      },
    ),
  ];
}
