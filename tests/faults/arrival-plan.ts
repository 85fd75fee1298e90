import { bootsAsSeen, arrangeAs, type ArrivalOrder } from '../replay/arrival-orders.js';
import type { Random } from '../model/seeded-random.js';
import { repeatPlan, type RepeatPlan, type Sending } from './repeat-plan.js';

/** The beginning of a random stream without a clock that steps back, in which the times of assignments would say nothing. */
function shortPart(random: Random, as: (seam: string) => string): RepeatPlan {
  let plan = repeatPlan(random.whole(1, 2 ** 31), as);
  while (plan.description.includes('stepBack')) plan = repeatPlan(random.whole(1, 2 ** 31), as);
  // A few long ones would take all the time there is, most of it for samples at 1 kHz.
  return beginningOf(plan, random.pick([800, 800, 800, 4_000]));
}

/** As many sendings as hold at most that many samples, and what was assigned up to there. */
function beginningOf(plan: RepeatPlan, samples: number): RepeatPlan {
  let left = Math.min(samples, 150 * (plan.sendings[0]?.items.length ?? 1) * samplesOf(plan.sendings[0]));
  const sendings: Sending[] = [];
  for (const sending of plan.sendings) {
    left -= sending.items.length * samplesOf(sending);
    if (left < 0) break;
    sendings.push(sending);
  }
  const end = timesOf(sendings).at(-1) ?? 0;
  return { ...plan, sendings, assignments: plan.assignments.filter((text) => (JSON.parse(text) as { time: number }).time <= end), end: end + 2_000 };
}

function samplesOf(sending: Sending | undefined): number {
  const current = sending?.items[0]?.current;
  return typeof current === 'object' ? current.length : 1;
}

/** Device times, rising, ms. */
function timesOf(sendings: readonly Sending[]): number[] {
  return sendings.flatMap(({ items }) => items.flatMap(({ time }) => (typeof time === 'number' ? [time] : []))).sort((a, b) => a - b);
}

/**
 * One carriage over minutes: random streams one after the other, each of boots of its own and half a minute to five minutes behind the one
 * before, so that checkpoints lie between them. `as` names its seams.
 */
export function chainedPlan(random: Random, as: (seam: string) => string): RepeatPlan {
  const parts = random.pick([1, 2, 2, 3]);
  const assignments: string[] = [];
  const sendings: Sending[] = [];
  const told: string[] = [];
  let sensors: RepeatPlan['sensors'] = null;
  let shift = 0;
  let end = 0;
  for (let part = 0; part < parts; part += 1) {
    const own = shortPart(random, (seam) => as(`${seam}-${part}`));
    const later = (time: unknown): number => Number(time) + shift;
    for (const text of own.assignments) {
      const body = JSON.parse(text) as { time: number };
      assignments.push(JSON.stringify({ ...body, time: later(body.time) }));
    }
    for (const { items } of own.sendings) {
      sendings.push({ items: items.map((item) => ({ ...item, boot: `${part}-${item.boot}`, ...('time' in item ? { time: later(item['time']) } : {}) })) });
    }
    // One declaration for all of them.
    sensors ??= own.sensors;
    end = own.end + shift;
    // What the part was assigned to is over before the next one begins.
    assignments.push(JSON.stringify({ seam: null, time: end }));
    shift += own.end - (timesOf(own.sendings)[0] ?? own.end) + random.whole(30_000, 300_000);
    told.push(own.description);
  }
  sendings.push(...darkBehind(sendings, end));
  return { description: told.join(' | '), sensors, assignments, sendings, end };
}

/** Readings of the last boot without arc, over longer than an unassigned run outlasts the dark, so that nothing waits for the clock on the wall. */
function darkBehind(sendings: readonly Sending[], end: number): Sending[] {
  const last = sendings.at(-1)?.items[0];
  if (last === undefined) return [];
  const arcs = new Set(sendings.flatMap(({ items }) => items.filter(({ boot }) => boot === last.boot).map(({ arc }) => arc ?? 1)));
  return [1, 2, 3, 62, 64, 65].map((after, at) => ({
    items: [...arcs].map((arc) => ({ boot: last.boot, seq: last.seq + 1 + at, arc, time: end + after * 1_000, current: 0, voltage: 0, travelSpeed: 0 })),
  }));
}

/** The payloads of a carriage whose items come in that order, at most about 200 of them. */
export function payloadsIn(order: ArrivalOrder, sendings: readonly Sending[], random: Random): string[] {
  const bootOf = ({ items }: Sending): string => items[0]?.boot ?? '';
  const boots = [...new Set(sendings.map(bootOf))];
  const arriving = bootsAsSeen(arrangeAs(order, sendings, random), boots, bootOf);
  const together = Math.max(Math.ceil(sendings.length / 200), random.pick([1, 5, 20, 60]));
  return Array.from({ length: Math.ceil(arriving.length / together) }, (_, at) =>
    JSON.stringify(arriving.slice(at * together, (at + 1) * together).flatMap(({ items }) => items)));
}
