import { planCarriage } from '../simulator/carriage-plan.js';
import { scriptRun, type RunEvent } from '../simulator/run-script.js';

const fates: Readonly<Record<RunEvent['kind'], string>> = {
  good: 'a good seam',
  voltageDrift: 'the voltage drifts: a warning, then out of limits',
  speedSlip: 'the drive slips: travel speed and heat input go out of limits',
  arcLoss: 'the arc is lost and re-struck with an overlap',
  silence: 'the sensors go silent with the arc on',
};

/** The events of each carriage in its first run, a line each. */
export function demoProgram(carriages: number, seed: number): string {
  const lines = Array.from({ length: carriages }, (_, place) => {
    const plan = planCarriage(place + 1, seed);
    return `  ${plan.site}/${plan.carriage}: ${fates[scriptRun(plan, 0).event.kind]}`;
  });
  return `In the first minutes:\n${lines.join('\n')}\n`;
}
