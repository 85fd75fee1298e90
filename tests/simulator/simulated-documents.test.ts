import { expect, test } from 'vitest';
import { procedureRequestSchema } from '../../shared/api-types/procedure.js';
import { decodeAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { planScenario, scenarioNames } from '../../services/simulator/scenarios.js';
import { simulatedProcedures } from '../../services/simulator/simulated-procedures.js';
import { playPlan, readings } from './played-run.js';

test('the simulated procedures can be posted', () => {
  for (const procedure of simulatedProcedures) expect(procedureRequestSchema.parse(procedure)).toEqual(procedure);
});

const plans = [1, 2, 3].map((index) => planCarriage(index, readings.seed)).concat(scenarioNames.map((scenario) => planScenario(scenario, readings.seed)));

test.each(plans)('the assignments of $carriage are taken whole, say that they are simulated, and name a procedure that there is', (plan) => {
  for (const cycle of [0, 1, 2]) {
    const { assignment: message } = playPlan(plan, cycle, readings);
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
