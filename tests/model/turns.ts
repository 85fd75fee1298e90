import type { ReceivedItem } from '../../shared/weld/items/item.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { baseOf, correctTimes } from './corrected-times.js';
import { placeItems } from './held-values.js';
import { placeAt } from './motion.js';
import type { PlacedAssignment, PlainRun } from './plain-types.js';
import { plainStream } from './zoned-rows.js';

/** A rounding error in a place, mm. */
const rounding = 1e-6;

/**
 * The assignments with those that turns add: where `turnIsRun`, the first item at or after each full turn, counted from where the first run was struck, is the first under
 * the next run number. Of what the rules leave to a series, the model knows that the arc burns at each border and that no data gap hides one.
 */
export function withTurns(items: readonly ReceivedItem[], assignments: readonly PlacedAssignment[], settings: WeldSettings): PlacedAssignment[] {
  const { runs, moves } = plainStream(items, assignments, settings);
  const placed = placeItems(correctTimes(items, baseOf(items), settings.maxHold)).sort((a, b) => a.index - b.index);
  return assignments.flatMap((own) => {
    const { assignment } = own;
    const run = runs.find((other) => other.assignment === assignment);
    if (assignment?.turnIsRun !== true || run === undefined) return [own];
    const start = Math.min(...run.burns.map(({ from }) => from));
    const from = placeAt(moves, start).position;
    const added: PlacedAssignment[] = [];
    for (let turn = 1; assignment.run + turn <= (assignment.lastRun ?? Infinity); turn += 1) {
      const border = turn * Math.PI * (assignment.diameter ?? Infinity) - rounding;
      const first = placed.find((item) => item.placed >= start && Math.abs(placeAt(moves, item.placed).position - from) >= border);
      if (first === undefined) break;
      added.push({ after: first.index - 1, assignment: { ...assignment, run: assignment.run + turn } });
    }
    return [own, ...added];
  });
}

/** Degrees in a radian: a place on the surface is its angle in radians times the radius. */
const perRadian = 180 / Math.PI;

/** What a run says of a circumferential seam: how far it went round, and its restarts in degrees. */
export function roundSeam({ assignment, length, restarts }: Pick<PlainRun, 'assignment' | 'length' | 'restarts'>): object {
  const radius = assignment?.motion === 'work' && assignment.diameter !== undefined ? assignment.diameter / 2 : null;
  const angle = (place: number | null): number | null => (radius === null || place === null ? null : (place / radius) * perRadian);
  const degrees = angle(length);
  return {
    circumference: radius === null || length === null || degrees === null ? null
      : { diameter: 2 * radius, degrees, turns: degrees / 360, overlap: degrees > 360 ? length - 2 * Math.PI * radius : 0 },
    restarts: restarts.map((own) => ({ ...own, stoppedDegrees: angle(own.stoppedTravelled), restartedDegrees: angle(own.restartedTravelled) })),
  };
}
