import { planCarriage } from '../simulator/carriage-plan.js';
import { scriptRun } from '../simulator/run-script.js';
import type { RunEvent } from '../simulator/run-script.js';

const fates: Readonly<Record<RunEvent['kind'], string>> = {
  good: 'a good seam',
  voltageDrift: 'the voltage drifts, is warned of, and leaves its window',
  speedSlip: 'the drive slips: travel speed and heat input leave their windows',
  arcLoss: 'the arc goes out and is lit again with an overlap',
  silence: 'the sensors fall silent under the burning arc',
};

/** What befalls each carriage in its first run, a line each. */
export function demoProgram(carriages: number, seed: number): string {
  const lines = Array.from({ length: carriages }, (_, place) => {
    const plan = planCarriage(place + 1, seed);
    return `  ${plan.site}/${plan.carriage}: ${fates[scriptRun(plan, 0).event.kind]}`;
  });
  return `In the first minutes:\n${lines.join('\n')}\n`;
}
