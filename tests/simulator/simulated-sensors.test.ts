import { expect, test } from 'vitest';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { planScenario, scenarioNames } from '../../services/simulator/scenarios.js';
import { simulatedSensors } from '../../services/simulator/simulated-sensors.js';
import { sensorsRequestSchema } from '../../shared/api-types/sensors.js';
import { pastDue } from '../../shared/weld/procedure/sensors.js';

const now = Date.UTC(2026, 10, 25, 8);
const plans = [planCarriage(1, 1), planCarriage(2, 1), ...scenarioNames.map((name) => planScenario(name, 1))];

test.each(plans)('what is declared of $carriage is accepted', (plan) => {
  expect(sensorsRequestSchema.parse(simulatedSensors(plan, now))).toMatchObject({ arcs: plan.arcs.map(({ arc }) => ({ arc })) });
});

test('a turning ring is measured at the rotator, and only the meters of the drifting extension are past due', () => {
  expect(simulatedSensors(planScenario('ring', 1), now).travelSource).toBe('rotator');
  const overdue = plans.flatMap((plan) => pastDue(simulatedSensors(plan, now), '2026-11-25').map((what) => `${plan.carriage} ${what}`));
  expect(overdue).toEqual(['e1 current arc 1', 'e1 voltage arc 1']);
});
