import type { Kysely } from 'kysely';
import { z } from 'zod';
import { listSchema } from '../../shared/api-types/common.js';
import { procedureBodySchema, procedureIdSchema, procedureRequestSchema, procedureSchema, revisionRequestSchema } from '../../shared/api-types/procedure.js';
import { procedureUsageSchema } from '../../shared/api-types/procedure-usage.js';
import type { Procedure, ProcedureBody } from '../../shared/api-types/procedure.js';
import { writeCursor } from '../../shared/records/page.js';
import { countRuns, findProcedure, listProcedures, type StoredProcedure } from '../../shared/records/procedures.js';
import type { Database } from '../../shared/records/tables.js';
import { isoTime } from '../../shared/weld/run/run-figures.js';
import type { IngestPort } from '../ingest-port.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { pageQuery, pageRequest, wholeQuery } from './query-values.js';
import { jsonBody, listAnswer, route, type Answer, type Route } from './route.js';

const params = z.strictObject({ id: procedureIdSchema });
const group = 'procedures';

/** Welding procedure specifications and their revisions; a revision never changes. */
export function procedureRoutes(port: IngestPort, records: Kysely<Database>): Route[] {
  const add = async (procedure: ProcedureBody, by: string, first: boolean): Promise<Answer> => {
    const done = granted(await port.addProcedure(procedure.id, JSON.stringify(procedure), by, first));
    const stored = await findProcedure(records, procedure.id, done.revision);
    if (stored === undefined) throw new Error(`revision ${done.revision} of ${procedure.id} was stored and cannot be read`);
    const location = `/api/procedures/${procedure.id}?revision=${done.revision}`;
    return { status: 201, body: procedureAnswer(stored), headers: { location } };
  };
  return [
    route(
      {
        method: 'get', path: '/api/procedures', group,
        summary: 'The newest revision of each procedure, latest revised first',
        query: z.strictObject(pageQuery),
        answers: { 200: { description: 'A page of procedures', schema: listSchema(procedureSchema) } },
        unchecked: true,
      },
      async ({ query }) => {
        const page = await listProcedures(records, pageRequest('procedures', query));
        return listAnswer(page.rows.map((row) => JSON.stringify(procedureAnswer(row))), page.next === null ? null : writeCursor('procedures', page.next));
      },
    ),
    route(
      {
        method: 'post', path: '/api/procedures', group,
        summary: 'Store a procedure as its revision 1',
        body: jsonBody(procedureRequestSchema),
        answers: { 201: { description: 'The procedure as stored', schema: procedureSchema } },
        problems: [409],
      },
      ({ body: { by, ...procedure } }) => add(procedure, by ?? 'local', true),
    ),
    route(
      {
        method: 'get', path: '/api/procedures/{id}', group,
        summary: 'One revision of a procedure; the newest if none is named',
        params, query: z.strictObject({ revision: wholeQuery(1, 1_000_000) }),
        answers: { 200: { description: 'The procedure', schema: procedureSchema } },
        problems: [404],
      },
      async ({ params: { id }, query: { revision } }) => {
        const stored = await findProcedure(records, id, revision);
        if (stored === undefined) throw problemError(404, revision === undefined ? 'There is no procedure of this id.' : 'There is no such revision of this procedure.');
        return { status: 200, body: procedureAnswer(stored) };
      },
    ),
    route(
      {
        method: 'get', path: '/api/procedures/{id}/usage', group,
        summary: 'How many runs were welded to a procedure and to each of its revisions',
        params,
        answers: { 200: { description: 'Counts of runs', schema: procedureUsageSchema } },
        problems: [404],
      },
      async ({ params: { id } }) => {
        if ((await findProcedure(records, id)) === undefined) throw problemError(404, 'There is no procedure of this id.');
        const revisions = await countRuns(records, id);
        return { status: 200, body: { runs: revisions.reduce((sum, { runs }) => sum + runs, 0), revisions } };
      },
    ),
    route(
      {
        method: 'post', path: '/api/procedures/{id}/revisions', group,
        summary: 'Store the next revision of a procedure',
        params, body: jsonBody(revisionRequestSchema),
        answers: { 201: { description: 'The revision as stored', schema: procedureSchema } },
        problems: [404, 409],
      },
      async ({ params: { id }, body: { by, ...content } }) => {
        if (content.id !== undefined && content.id !== id) {
          const reason = `must be the id of the path, ${id}, or left out`;
          throw problemError(400, `id: ${reason}`, { fields: [{ field: 'id', reason }] });
        }
        return await add({ ...content, id }, by ?? 'local', false);
      },
    ),
  ];
}

function procedureAnswer(row: StoredProcedure): Procedure {
  const body = procedureBodySchema.parse(JSON.parse(row.body));
  return { ...body, revision: row.revision, createdAt: isoTime(row.created), by: row.by };
}
