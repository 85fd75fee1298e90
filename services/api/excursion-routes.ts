import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { listSchema } from '../../shared/api-types/common.js';
import { excursionSchema } from '../../shared/api-types/excursion.js';
import { writeCursor } from '../../shared/records/page.js';
import type { Database } from '../../shared/records/tables.js';
import { formatQuery, pageQuery, pageRequest } from './query-values.js';
import { listAnswer, route, type Route } from './route.js';
import { excursionsCsv } from './run-csv.js';
import { runOrProblem, runParams } from './run-routes.js';

/** Where a run left its procedure's windows. */
export function excursionRoutes(records: Kysely<Database>, runs: AnsweredRuns, zone: () => string): Route[] {
  return [
    route(
      {
        method: 'get',
        path: '/api/runs/{id}/excursions',
        group: 'runs',
        summary: 'Stretches of a run out of limits, newest first',
        params: runParams,
        query: z.strictObject({ ...pageQuery, format: formatQuery }),
        body: null,
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
