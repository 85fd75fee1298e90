import type { Kysely } from 'kysely';
import { runFiguresSchema } from '../../shared/api-types/figures.js';
import { procedureBodySchema } from '../../shared/api-types/procedure.js';
import { runSchema } from '../../shared/api-types/run.js';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { findProcedure } from '../../shared/records/procedures.js';
import type { Database } from '../../shared/records/tables.js';
import { runFigureAnswers } from '../../shared/weld/figures/run-figure-answers.js';
import { route, type Route } from './route.js';
import { runOrProblem, runParams } from './run-routes.js';

/** Where each number of a run comes from. */
export function figureRoutes(records: Kysely<Database>, runs: AnsweredRuns): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/runs/{id}/figures', group: 'runs',
        summary: 'Every figure of a run: formula, inputs, method and source',
        params: runParams,
        answers: { 200: { description: 'The figures, in the order of their definitions', schema: runFiguresSchema } },
        problems: [404],
      },
      async ({ params }) => {
        const run = runSchema.parse(await runs.record(await runOrProblem(records, params.id)));
        const revision = run.procedure === null ? undefined : await findProcedure(records, run.procedure.id, run.procedure.revision);
        const procedure = revision === undefined ? null : procedureBodySchema.parse(JSON.parse(revision.body));
        return { status: 200, body: { items: runFigureAnswers(run, procedure) } };
      },
    ),
  ];
}
