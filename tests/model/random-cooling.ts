import { plainCooling } from './plain-cooling.js';
import { seededRandom } from './seeded-random.js';
import type { PlainWindow, WindowProcedure } from './window-types.js';

type RunGroup = WindowProcedure['runGroups'][number];

/**
 * Gives the run groups of a procedure limits of the cooling time, most of the time, and shape factors: around what a weld of this heat input, kJ/mm, takes on
 * some plate, so that values lie on both sides.
 */
export function withCoolingLimits<Procedure extends { readonly runGroups: readonly RunGroup[] }>(procedure: Procedure, heatInput: number, seed: number): Procedure {
  // A generator of its own: everything else stays as it was without limits of the cooling time.
  const random = seededRandom(seed + 4_000_000);
  const runGroups = procedure.runGroups.map((group) => {
    if (random.chance(0.3)) return group;
    const shape = random.pick([{}, {}, { f2: 0.45, f3: 0.67 }, { f3: 0.9 }]);
    const usual = plainCooling(heatInput, { thickness: random.pick([8, 16, 24, 40]), preheat: random.pick([20, 100, 150]) }, { f2: 1, f3: 1, ...shape })?.value ?? 10;
    const [low, high] = [usual * random.between(0.7, 1.02), usual * random.between(0.98, 1.4)].map((value) => Math.round(value * 1000) / 1000) as [number, number];
    const t85 = random.pick<PlainWindow>([{ min: Math.min(low, high), max: Math.max(low, high) }, { min: Math.min(low, high), max: Math.max(low, high) }, { max: high }, { min: low }]);
    return { ...group, t85, shapeFactors: shape };
  });
  return { ...procedure, runGroups };
}
