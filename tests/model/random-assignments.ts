import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { Random } from './seeded-random.js';

/** An assignment (or the end of one) that comes before the message with this number. */
export interface RandomAssignment {
  readonly before: number;
  readonly assignment: Assignment | null;
}

function makeAssignment(random: Random, seam: string, run: number): Assignment {
  return {
    seam,
    run,
    ...(random.chance(0.3) ? { runOn: random.whole(10, 60) } : {}),
    ...(random.chance(0.3) ? { seamLength: random.whole(50, 600) } : {}),
  };
}

/** One to four assignments over a stream of `messages`; the same seam and run may come again. */
export function randomAssignments(random: Random, messages: number, burningAt: (message: number) => boolean): RandomAssignment[] {
  const made: RandomAssignment[] = [];
  let current = null as Assignment | null;
  let ended = null as Assignment | null;
  const drawn = Array.from({ length: random.whole(0, 3) }, () => random.whole(1, messages));
  const places = [...new Set(drawn)].sort((a, b) => a - b);
  if (random.chance(0.75)) places.unshift(0);
  for (const before of places) {
    let next: Assignment | null;
    if (current !== null && random.chance(0.25)) next = null;
    else if (current !== null && random.chance(0.15)) next = { ...current, operator: 'op-08' };
    else next = makeAssignment(random, random.pick(['S-1', 'S-2']), random.whole(1, 2));
    // left out: a run that continues under an arc that burned on through a time without an assignment
    if (current === null && next?.seam === ended?.seam && next?.run === ended?.run && burningAt(before)) continue;
    if (next === null) ended = current;
    current = next;
    made.push({ before, assignment: next });
  }
  if (current !== null && places.at(-1) !== messages && random.chance(0.5)) made.push({ before: messages, assignment: null });
  return made;
}
