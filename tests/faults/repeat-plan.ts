import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { withAlternation } from '../model/random-alternation.js';
import { randomRun } from '../model/random-run.js';
import { withSensors } from '../model/random-sensors.js';
import type { Random } from '../model/seeded-random.js';
import type { SentItem } from './kept-items.js';

/** One sending of a carriage: items of one seq travel together, since arcs do. */
export interface Sending {
  readonly items: readonly SentItem[];
}

export interface RepeatPlan {
  readonly description: string;
  /** What is declared of the carriage's sensors before anything comes: a declaration holds from the newest item on. Null where nothing is. */
  readonly sensors: Sensors | null;
  /** Assignment payloads, all of them with a time, so that their place does not depend on when they come. */
  readonly assignments: readonly string[];
  readonly sendings: readonly Sending[];
  /** Device time behind everything, ms. */
  readonly end: number;
}

/** A random stream of one carriage as messages; `as` names its seams, for two carriages on one seam are flagged. */
export function repeatPlan(seed: number, as: (seam: string) => string): RepeatPlan {
  const { description, events: stream } = randomRun(seed, { timedAssignments: true });
  const { events, sensors } = withSensors(withAlternation(stream, seed), seed);
  const assignments: string[] = [];
  const groups = new Map<string, SentItem[]>();
  let end = 0;
  for (const event of events) {
    if (event.type === 'assignment') {
      const time = (event.time ?? 0) / 1000;
      assignments.push(JSON.stringify(event.assignment === null ? { seam: null, time } : { ...event.assignment, seam: as(event.assignment.seam), time }));
      continue;
    }
    const { boot, seq, time, arc, interval, current, voltage, travelSpeed, wireFeedSpeed, travel } = event.item;
    const fields = { time: (time ?? 0) / 1000, interval, travelSpeed, wireFeedSpeed, travel };
    const given = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null));
    const item: SentItem = { boot: boot ?? '', seq: seq ?? 0, arc, current, voltage, ...given };
    end = Math.max(end, fields.time);
    const key = `${item.boot} ${item.seq}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return { description, sensors, assignments, sendings: [...groups.values()].map((items) => ({ items })), end: end + 2_000 };
}

/** Puts a list in a random order (Fisher and Yates). */
export function shuffled<T>(list: readonly T[], random: Random): T[] {
  const copy = [...list];
  for (let i = copy.length - 1; i > 0; i -= 1) {
    const j = random.whole(0, i);
    const [here, there] = [copy[i], copy[j]];
    if (here !== undefined && there !== undefined) [copy[i], copy[j]] = [there, here];
  }
  return copy;
}

/**
 * The same sendings in any order, each two to five times, some of them put together in one message. The first of each boot
 * comes first, since boots follow one another in the order in which they were first seen.
 */
export function repeated(sendings: readonly Sending[], random: Random): string[] {
  const boots = new Set<string>();
  const leaders = sendings.filter(({ items }) => {
    const boot = items[0]?.boot ?? '';
    if (boots.has(boot)) return false;
    boots.add(boot);
    return true;
  });
  const copies = shuffled(sendings.flatMap((sending) => Array.from({ length: random.whole(2, 5) }, () => sending)), random);
  const payloads = leaders.map(({ items }) => JSON.stringify(items));
  for (let at = 0; at < copies.length;) {
    const together = random.chance(0.3) ? random.whole(2, 20) : 1;
    const items = copies.slice(at, at + together).flatMap((sending) => sending.items);
    payloads.push(JSON.stringify(items.length === 1 ? items[0] : items));
    at += together;
  }
  return payloads;
}
