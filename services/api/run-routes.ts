import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import { z } from 'zod';
import { assignmentRequestSchema } from '../../shared/api-types/assignment.js';
import { listSchema } from '../../shared/api-types/common.js';
import { runSchema } from '../../shared/api-types/run.js';
import { writeCursor } from '../../shared/records/page.js';
import { findRun, listRuns } from '../../shared/records/runs.js';
import type { StoredRun } from '../../shared/records/runs.js';
import type { Database } from '../../shared/records/tables.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './checked-assignment.js';
import { portProblem } from './errors.js';
import { problemError } from './problem-error.js';
import { booleanQuery, nameQuery, nothing, pageQuery, pageRequest, textQuery, timeOf, timeQuery } from './query-values.js';
import { jsonBody, listAnswer, route } from './route.js';
import type { Route } from './route.js';

/** Ids are opaque: whatever is no id of a run is not found. */
export const runParams = z.strictObject({ id: z.string().min(1).max(200) });

const group = 'runs';

/** The run of that id. Throws a problem where there is none. */
export async function runOrProblem(records: Kysely<Database>, id: string): Promise<StoredRun> {
  const run = await findRun(records, id);
  if (run === undefined) throw problemError(404, 'There is no run of this id.');
  return run;
}

/** Runs: the list, one of them, and its assignment. */
export function runRoutes(port: IngestPort, records: Kysely<Database>, log: Logger): Route[] {
  return [
    route(
      {
        method: 'get',
        path: '/api/runs',
        group,
        summary: 'Runs, those begun last first',
        params: nothing,
        query: z.strictObject({
          ...pageQuery,
          from: timeQuery.meta({ description: 'Runs that began then or later' }),
          to: timeQuery.meta({ description: 'Runs that began before' }),
          site: nameQuery,
          carriage: nameQuery,
          state: z.enum(['welding', 'finished']).optional(),
          seam: textQuery,
          assigned: booleanQuery,
          search: textQuery.meta({ description: 'Words parted by spaces, each of which the seam or the carriage holds; small and capital letters alike' }),
        }),
        body: null,
        answers: { 200: { description: 'A page of runs', schema: listSchema(runSchema) } },
        problems: [],
        rows: true,
      },
      async ({ query }) => {
        const { from, to, ...filter } = query;
        const page = await listRuns(records, { ...filter, from: timeOf(from), to: timeOf(to) }, pageRequest('runs', query));
        return listAnswer(page.rows.map((row) => row.record), page.next === null ? null : writeCursor('runs', page.next));
      },
    ),
    route(
      {
        method: 'get',
        path: '/api/runs/{id}',
        group,
        summary: 'One run with its figures',
        params: runParams,
        query: nothing,
        body: null,
        answers: { 200: { description: 'The run', schema: runSchema } },
        problems: [404],
      },
      async ({ params }) => ({ status: 200, body: JSON.parse((await runOrProblem(records, params.id)).record) as unknown }),
    ),
    route(
      {
        method: 'put',
        path: '/api/runs/{id}/assignment',
        group,
        summary: 'Assign a finished run that had no assignment, or correct the one it had; it is computed anew',
        params: runParams,
        query: nothing,
        body: jsonBody(assignmentRequestSchema),
        answers: { 200: { description: 'The run as computed anew', schema: runSchema } },
        problems: [404, 409],
      },
      async ({ params, body }) => {
        const { by, ...given } = body;
        const assignment = checkedAssignment(given);
        const { state } = await runOrProblem(records, params.id);
        if (state === 'welding') throw problemError(409, 'The run is being welded: assign its carriage, or wait until it is finished.');
        const done = await port.assignRun(params.id, assignment);
        if ('failed' in done) throw portProblem(done);
        log.info({ id: params.id, seam: assignment.seam, run: assignment.run, actor: 'local', by: by ?? 'local' }, 'run assigned');
        return { status: 200, body: JSON.parse((await runOrProblem(records, params.id)).record) as unknown };
      },
    ),
  ];
}
