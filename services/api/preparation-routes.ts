import type { Logger } from 'pino';
import { z } from 'zod';
import { assignmentAnswer, assignmentSchema, preparationRequestSchema } from '../../shared/api-types/assignment.js';
import { nameSchema } from '../../shared/api-types/common.js';
import type { IngestPort } from '../ingest-port.js';
import { checkedAssignment } from './checked-assignment.js';
import { portProblem } from './errors.js';
import { nothing } from './query-values.js';
import { jsonBody, route } from './route.js';
import type { Route } from './route.js';

/** Entries of the preparation, made at the carriage. */
export function preparationRoutes(port: IngestPort, log: Logger): Route[] {
  return [
    route(
      {
        method: 'put',
        path: '/api/carriages/{site}/{carriage}/preparation',
        group: 'carriages',
        summary: 'Enter what was done before the arc is lit, into the assignment in force',
        params: z.strictObject({ site: nameSchema, carriage: nameSchema }),
        query: nothing,
        body: jsonBody(preparationRequestSchema),
        answers: { 200: { description: 'The assignment in force, with the entries in it', schema: assignmentSchema } },
        problems: [409],
      },
      async ({ params, body }) => {
        const { seam = null, run = null, by = 'local', ...given } = body;
        const { fluxLot, arcs, ...preparation } = given;
        // Its check has the last word on every field, here as in an assignment.
        checkedAssignment({ seam: '-', run: 1, fluxLot, arcs, preparation });
        const change = { ...given, fluxLot: lotOf(fluxLot), arcs: arcs?.map(({ wireLot, ...arc }) => ({ ...arc, wireLot: lotOf(wireLot) })) };
        const done = await port.enterPreparation(params.site, params.carriage, { seam, run, change, by });
        if ('failed' in done) throw portProblem(done);
        log.info({ ...params, seam: done.assignment.seam, run: done.assignment.run, actor: 'local', by }, 'preparation entered');
        return { status: 200, body: assignmentAnswer(done.assignment) };
      },
    ),
  ];
}

/** Empty text is no lot. */
function lotOf(lot: string | null | undefined): string | null | undefined {
  return lot === '' ? null : lot;
}
