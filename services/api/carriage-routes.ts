import type { Logger } from 'pino';
import { z } from 'zod';
import { assignmentAnswer, assignmentRequestSchema, assignmentSchema } from '../../shared/api-types/assignment.js';
import { carriageSchema } from '../../shared/api-types/carriage.js';
import { listSchema, nameSchema } from '../../shared/api-types/common.js';
import { freeText } from '../../shared/api-types/free-text.js';
import { pageOf, writeCursor } from '../../shared/records/page.js';
import { carriageKey } from '../../shared/api-types/carriage-key.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './check-request.js';
import { granted } from './errors.js';
import { pageQuery, pageRequest, textQuery } from './query-values.js';
import { jsonBody, listAnswer, optionalBody, route, type Route } from './route.js';

const place = z.strictObject({ site: nameSchema, carriage: nameSchema });
const group = 'carriages';

/** What the carriages do now, and what they weld from now on. */
export function carriageRoutes(port: IngestPort, log: Logger): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/carriages', group,
        summary: 'What each carriage does now, in order of site and carriage',
        query: z.strictObject(pageQuery),
        answers: { 200: { description: 'A page of carriages', schema: listSchema(carriageSchema) } },
        unchecked: true,
      },
      ({ query }) => {
        const { limit, after } = pageRequest('carriages', query);
        // Their state changes all the time, so only their names give an order that a cursor can go on in.
        const named = port.carriages().map((text) => ({ id: carriageKey(text), text })).sort((a, b) => (a.id < b.id ? -1 : 1));
        const behind = after === null ? named : named.filter((own) => own.id > after.id);
        const page = pageOf(behind.slice(0, limit + 1), limit, (own) => ({ at: 0, id: own.id }));
        return listAnswer(page.rows.map((own) => own.text), page.next === null ? null : writeCursor('carriages', page.next));
      },
    ),
    route(
      {
        method: 'delete', path: '/api/carriages/{site}/{carriage}', group,
        summary: 'Remove a carriage: without runs it is forgotten; with runs it is hidden until it sends again, and its runs stay',
        params: place, body: optionalBody(z.strictObject({ by: freeText(100).optional() }).meta({ id: 'Retirement' })),
        answers: { 204: { description: 'Removed', schema: null } },
        problems: [404, 409],
      },
      async ({ params, body }) => {
        granted(await port.retireCarriage(params.site, params.carriage));
        log.info({ ...params, actor: 'local', by: body?.by ?? 'local' }, 'carriage removed');
        return { status: 204 };
      },
    ),
    route(
      {
        method: 'put', path: '/api/carriages/{site}/{carriage}/assignment', group,
        summary: 'Begin an assignment, as over MQTT',
        params: place, body: jsonBody(assignmentRequestSchema),
        answers: { 200: { description: 'The assignment as it was accepted', schema: assignmentSchema } },
        problems: [404, 409],
      },
      async ({ params, body }) => {
        const { by, reason, ...given } = body;
        const assignment = checkedAssignment(given);
        granted(await port.assign(params.site, params.carriage, assignment, { by: by ?? 'local', reason: reason ?? null }));
        log.info({ ...params, seam: assignment.seam, run: assignment.run, actor: 'local', by: by ?? 'local', reason: reason ?? null }, 'assigned');
        return { status: 200, body: assignmentAnswer(assignment) };
      },
    ),
    route(
      {
        method: 'delete', path: '/api/carriages/{site}/{carriage}/assignment', group,
        summary: 'End the assignment in force, as over MQTT',
        params: place, query: z.strictObject({ by: textQuery.meta({ description: 'Who ends it; local if left out' }), reason: textQuery }),
        answers: { 204: { description: 'No assignment is in force', schema: null } },
        problems: [404, 409],
      },
      async ({ params, query: { by = 'local', reason = null } }) => {
        granted(await port.assign(params.site, params.carriage, null, { by, reason }));
        log.info({ ...params, actor: 'local', by, reason }, 'assignment ended');
        return { status: 204 };
      },
    ),
  ];
}
