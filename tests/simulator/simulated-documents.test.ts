import { expect, test } from 'vitest';
import { procedureRequestSchema } from '../../shared/api-types/procedure.js';
import { decodeAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { simulatedProcedures } from '../../services/simulator/simulated-procedures.js';
import { playRun, readings } from './played-run.js';

test('the simulated procedures can be posted', () => {
  for (const procedure of simulatedProcedures) expect(procedureRequestSchema.parse(procedure)).toEqual(procedure);
});

test.each([1, 2, 3])('the assignments of c%i are taken whole, say that they are simulated, and name a procedure that there is', (index) => {
  for (const cycle of [0, 1, 2]) {
    const { assignment: message } = playRun(index, cycle, readings);
    const decoded = decodeAssignment(Buffer.from(message.payload));
    if (decoded.kind !== 'assignment') throw new Error(JSON.stringify(decoded));
    const sent = JSON.parse(message.payload) as { time: number; preparation: { at: number } };
    // ms as sent, whole µs inside.
    const preparation = { ...sent.preparation, at: sent.preparation.at * 1000 };
    expect(decoded.assignment).toEqual({ ...sent, time: sent.time * 1000, preparation });
    expect(decoded.assignment.simulated).toBe(true);
    expect(simulatedProcedures.map((procedure) => procedure.id)).toContain(decoded.assignment.procedure);
  }
});
