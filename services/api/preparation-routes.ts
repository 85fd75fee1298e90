import type { Logger } from 'pino';
import { z } from 'zod';
import { assignmentAnswer, assignmentSchema, materialRequestSchema, preparationRequestSchema } from '../../shared/api-types/assignment.js';
import { nameSchema } from '../../shared/api-types/common.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './check-request.js';
import { granted } from './errors.js';
import { jsonBody, route, type Route } from './route.js';

/** Entries made at the carriage: the preparation, and changes of wire and flux. */
export function preparationRoutes(port: IngestPort, log: Logger): Route[] {
  return [
    route(
      {
        method: 'put', path: '/api/carriages/{site}/{carriage}/preparation', group: 'carriages',
        summary: 'Enter checks made before arc start, into the assignment in force',
        params: z.strictObject({ site: nameSchema, carriage: nameSchema }), body: jsonBody(preparationRequestSchema),
        answers: { 200: { description: 'The assignment in force, with the entries in it', schema: assignmentSchema } },
        problems: [409],
      },
      async ({ params, body }) => {
        const { seam = null, run = null, by = 'local', ...given } = body;
        const { fluxLot, arcs, ...preparation } = given;
        // Its check has the last word on every field, here as in an assignment.
        checkedAssignment({ seam: '-', run: 1, fluxLot, arcs, preparation });
        const change = { ...given, fluxLot: lotOf(fluxLot), arcs: arcs?.map(({ wireLot, ...arc }) => ({ ...arc, wireLot: lotOf(wireLot) })) };
        const done = granted(await port.enterPreparation(params.site, params.carriage, { seam, run, change, by }));
        log.info({ ...params, seam: done.assignment.seam, run: done.assignment.run, actor: 'local', by }, 'preparation entered');
        return { status: 200, body: assignmentAnswer(done.assignment) };
      },
    ),
    route(
      {
        method: 'post', path: '/api/carriages/{site}/{carriage}/materials', group: 'carriages',
        summary: 'Enter a change of wire or flux, also during the run',
        params: z.strictObject({ site: nameSchema, carriage: nameSchema }), body: jsonBody(materialRequestSchema),
        answers: { 200: { description: 'The assignment in force, with the change in it', schema: assignmentSchema } },
        problems: [409],
      },
      async ({ params, body: { seam = null, run = null, by = 'local', kind, arc = null, lot, mass = null, travelled = null } }) => {
        const given = lotOf(lot) ?? null;
        // Its check has the last word on every field, here as in an assignment.
        checkedAssignment({ seam: '-', run: 1, materials: [{ kind, arc, lot: given, mass, travelled, by, at: 0 }] });
        const done = granted(await port.changeMaterial(params.site, params.carriage, { seam, run, kind, arc, lot: given, mass, travelled, by }));
        log.info({ ...params, seam: done.assignment.seam, run: done.assignment.run, actor: 'local', by, kind }, 'material changed');
        return { status: 200, body: assignmentAnswer(done.assignment) };
      },
    ),
  ];
}

/** Empty text is no lot. */
function lotOf(lot: string | null | undefined): string | null | undefined {
  return lot === '' ? null : lot;
}
