import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { ReceivedItem, Values } from '../../shared/weld/items/item.js';
import type { CarriageEvent } from '../replay/replay.js';
import { randomAssignments } from './random-assignments.js';
import { randomPhases, type Phase } from './random-phases.js';
import { seededRandom, type Random } from './seeded-random.js';
import { unsentValues } from '../unsent.js';

export interface RandomRunOptions {
  /** Assignments carry a time, so that nothing depends on the order of arrival. */
  readonly timedAssignments?: boolean;
  /** Also cases that the rules leave open (see README.md in this folder). */
  readonly open?: boolean;
}

type Motion = 'every' | 'first' | 'sometimes' | 'none' | 'encoder' | 'encoderAlone';

interface Cadence {
  readonly name: string;
  /** Interval between messages, µs; samples in a block (0: readings); interval between samples, µs. */
  readonly every: number;
  readonly block: number;
  readonly interval: number;
  /** The most by which the time in a message deviates from the true one, µs. */
  readonly jitter: number;
}

const cadences: readonly Cadence[] = [
  { name: '10 Hz', every: 100_000, block: 0, interval: 0, jitter: 0 },
  { name: '1 Hz', every: 1_000_000, block: 0, interval: 0, jitter: 0 },
  { name: 'jittered', every: 100_000, block: 0, interval: 0, jitter: 30_000 },
  { name: '1 kHz', every: 100_000, block: 100, interval: 1_000, jitter: 0 },
  { name: '1 kHz, 80 ms', every: 80_000, block: 80, interval: 1_000, jitter: 900 },
  { name: '1 kHz, overlapping', every: 95_000, block: 100, interval: 1_000, jitter: 0 },
  { name: '200 Hz', every: 100_000, block: 20, interval: 5_000, jitter: 2_000 },
];

/** Noon, 2 November 2026, UTC. */
const streamStart = Date.UTC(2026, 10, 2, 12) * 1000;

interface Arc {
  readonly alternating: boolean;
  readonly lag: number;
}

function valuesOf(phases: readonly Phase[], random: Random, number: number, arc: Arc, time: number, cadence: Cadence): { current: number[]; voltage: number[] } {
  const current: number[] = [];
  const voltage: number[] = [];
  for (let k = 0; k < Math.max(1, cadence.block); k += 1) {
    const at = time + k * cadence.interval;
    const phase = phases.find((candidate) => at >= candidate.from && at < candidate.to) ?? phases.at(-1);
    const truth = phase?.arcs[number];
    const inside = (spans: readonly { from: number; to: number }[]): boolean => spans.some((span) => at >= span.from && at < span.to);
    let amperes = truth === undefined ? 0 : inside(truth.losses) ? 5 : truth.current;
    let volts = truth === undefined ? 0 : inside(truth.contacts) ? 8 : truth.voltage;
    if (amperes > 50) amperes += random.whole(-20, 20) / 4;
    if (volts > 20) volts += random.whole(-8, 8) / 16;
    if (arc.alternating && truth?.on === true) {
      const angle = 2 * Math.PI * 50 * (at / 1_000_000);
      amperes *= Math.SQRT2 * Math.sin(angle - arc.lag);
      volts *= Math.SQRT2 * Math.sin(angle);
    }
    current.push(amperes);
    voltage.push(volts);
  }
  return { current, voltage };
}

/** Signed travel in mm up to `time`. */
function positionAt(phases: readonly Phase[], time: number): number {
  return phases.reduce((sum, phase) => sum + (phase.speed / 60_000_000) * Math.max(0, Math.min(time, phase.to) - phase.from), 0);
}

/** A plausible stream of one carriage, in order of arrival, with faults in its time, its messages and its motion. */
export function randomRun(seed: number, options: RandomRunOptions = {}): { description: string; events: CarriageEvent[] } {
  const random = seededRandom(seed);
  const cadence = random.pick(cadences);
  const blocks = cadence.block > 0;
  const count = random.pick([1, 1, 2, 3]);
  const arcs = Array.from({ length: count }, (_, i) => ({ alternating: blocks && i > 0 && random.chance(0.4), lag: random.between(0, 0.6) }));
  const open = options.open === true;
  const motion = random.pick<Motion>(['every', 'first', 'sometimes', 'none', 'encoder', open ? 'encoderAlone' : 'encoder']);
  const phases = randomPhases(random, { arcs: count, blocks, longHoles: options.timedAssignments !== true, open, driven: motion.startsWith('encoder') });
  const end = phases.at(-1)?.to ?? 0;
  const offset = random.pick([0, 37_300, 50_000]);
  const times: number[] = [];
  for (let at = offset; at < end; at += cadence.every) {
    const jittered = at + (cadence.jitter === 0 ? 0 : random.whole(-cadence.jitter, cadence.jitter));
    const phase = phases.find((candidate) => at >= candidate.from && at < candidate.to);
    if (phase?.silent !== true) times.push(Math.max(0, jittered));
  }
  const burningAt = (message: number): boolean => {
    const time = times[message] ?? end;
    return phases.some((phase) => time >= phase.from - 1_000_000 && time < phase.to + 1_000_000 && phase.arcs.some((arc) => arc.on));
  };
  const assignments = randomAssignments(random, times.length, burningAt);
  const fault = random.pick(['none', 'none', 'stepBack', 'reboot']);
  const steps = fault === 'stepBack' && (options.timedAssignments !== true || assignments.every((entry) => entry.before === 0));
  const faultAt = random.whole(1, times.length);
  const back = random.pick([3_600_000_000, 1_000_000, 60_000_000]);
  const jumpAt = motion.startsWith('encoder') && random.chance(0.4) ? random.whole(1, times.length) : Number.POSITIVE_INFINITY;
  const lossShare = random.pick([0, 0, 0.01]);
  const events: CarriageEvent[] = [];
  // An encoder that restarts at zero with its device; it has a separate generator, so that every other seed stays as it was.
  const newZero = fault === 'reboot' && motion.startsWith('encoder') && seededRandom(seed + 7_000_000).chance(0.5);
  let zero = -100;
  let arrival = 0;
  let boot = 'b1';
  let seq = random.whole(0, 50);
  const assignAt = (message: number): void => {
    for (const entry of assignments.filter((candidate) => candidate.before === message)) {
      const time = options.timedAssignments === true ? streamStart + (times[message] ?? end + 1_000_000) : null;
      const assignment: Assignment | null = entry.assignment === null || time === null ? entry.assignment : { ...entry.assignment, time };
      events.push({ type: 'assignment', assignment, time });
    }
  };
  times.forEach((time, message) => {
    assignAt(message);
    seq += 1;
    if (fault === 'reboot' && message === faultAt) {
      boot = 'b2';
      seq = 0;
      if (newZero) zero = positionAt(phases, time);
    }
    if (message > 0 && random.chance(lossShare)) return;
    const speed = phases.find((phase) => time >= phase.from && time < phase.to)?.speed ?? 0;
    const told = streamStart + time - (steps && message >= faultAt ? back : 0);
    arcs.forEach((arc, i) => {
      if (message > 0 && random.chance(lossShare)) return;
      const values = valuesOf(phases, random, i, arc, time, cadence);
      const shape = (list: number[]): Values => (blocks ? list : (list[0] ?? 0));
      const encoder = motion.startsWith('encoder') && i === 0;
      const tremble = encoder && random.chance(0.3) ? random.whole(-3, 3) / 10 : 0;
      const tellsSpeed =
        motion === 'every' || ((motion === 'first' || motion === 'encoder') && i === 0) || (motion === 'sometimes' && i === 0 && (message === 0 || random.chance(0.6)));
      const item: ReceivedItem = {
        boot,
        seq,
        time: told,
        arc: i + 1,
        interval: blocks ? cadence.interval / 1000 : null,
        count: Math.max(1, cadence.block),
        current: shape(values.current),
        voltage: shape(values.voltage),
        ...unsentValues,
        travelSpeed: tellsSpeed ? speed : null,
        wireFeedSpeed: random.chance(0.5) ? 1.2 : null,
        travel: encoder ? positionAt(phases, time) - zero + tremble + (message >= jumpAt ? 700 : 0) : null,
        arrived: streamStart + time + 50_000,
        arrival,
      };
      events.push({ type: 'item', item });
      arrival += 1;
    });
  });
  assignAt(times.length);
  return { description: `seed ${seed}: ${cadence.name}, ${count} arcs, motion ${motion}, fault ${fault}${newZero ? ' with a new zero' : ''}`, events };
}
