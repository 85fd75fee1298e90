import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { ReceivedItem, Values } from '../../shared/weld/items/item.js';
import type { CarriageEvent } from '../replay/replay.js';
import { alarmStretches, nominal, type AlarmStretch } from './alarm-stretches.js';
import { withCoolingLimits } from './random-cooling.js';
import { withPlates } from './random-plates.js';
import { randomFeed } from './random-feed.js';
import { seededRandom, type Random } from './seeded-random.js';
import type { AlarmProcedure } from './alarm-types.js';
import type { PlainWindow } from './window-types.js';
import { unsentValues } from '../unsent.js';

export const alarmProcedureId = 'P-1';

export interface AlarmScenario {
  readonly description: string;
  readonly events: readonly CarriageEvent[];
  readonly procedure: AlarmProcedure;
}

/** Interval between messages, µs, and the samples of a block (0: readings). */
const cadences = [
  { name: '10 Hz', every: 100_000, block: 0 },
  { name: '10 Hz', every: 100_000, block: 0 },
  { name: '10 Hz', every: 100_000, block: 0 },
  { name: '4 Hz', every: 250_000, block: 0 },
  { name: '1 Hz', every: 1_000_000, block: 0 },
  { name: '100 Hz blocks', every: 100_000, block: 10 },
  { name: '100 Hz blocks beside the rows', every: 70_000, block: 7 },
] as const;

/** Noon, 2 November 2026, UTC. */
const streamStart = Date.UTC(2026, 10, 2, 12) * 1_000_000 / 1_000;

function optional<T>(random: Random, share: number, make: () => T): T | undefined {
  return random.chance(share) ? make() : undefined;
}

/** A window around the nominal value that leaves `room` on both sides, or is open at one end. */
function windowAbout(random: Random, value: number, room: number): PlainWindow {
  const min = Math.round((value - room) * 1000) / 1000;
  const max = Math.round((value + room) * 1000) / 1000;
  return random.pick<PlainWindow>([{ min, max }, { min, max }, { min, max }, { min }, { max }]);
}

function procedureFor(random: Random, arcs: number): AlarmProcedure {
  const own = Array.from({ length: arcs }, (_, i) => {
    const current = optional(random, 0.8, () => windowAbout(random, nominal.current, 40));
    const voltage = optional(random, 0.8, () => windowAbout(random, nominal.voltage, 2));
    const variation = optional(random, 0.15, () => ({ max: random.pick([0.01, 0.03, 0.1]) }));
    const polarity = random.pick(['none', 'EP', 'EP', 'EN'] as const);
    return {
      arc: i + 1,
      offset: i * random.pick([0, 12, 20]),
      ...(current === undefined ? {} : { current }),
      ...(voltage === undefined ? {} : { voltage }),
      ...(variation === undefined ? {} : { voltageVariation: variation }),
      ...(polarity === 'none' ? {} : { currentType: random.chance(0.9) ? ('DC' as const) : ('AC' as const), polarity }),
    };
  });
  const travelSpeed = optional(random, 0.6, () => windowAbout(random, nominal.travelSpeed, 70));
  const heatInput = optional(random, 0.7, () => windowAbout(random, arcs * nominal.heatInput, arcs * 0.25));
  return {
    id: alarmProcedureId,
    thermalEfficiency: 1,
    runGroups: [{ runs: [1, 9], arcs: own, ...(travelSpeed === undefined ? {} : { travelSpeed }), ...(heatInput === undefined ? {} : { heatInput }) }],
    alarm: {
      smoothing: random.pick([0, 0.2, 0.5, 1, 1]),
      onDelay: random.pick([0, 0.3, 1, 1, 2]),
      offDelay: random.pick([0, 0.5, 1, 3, 3]),
      deadband: random.pick([0, 0.05, 0.2]),
      heatInputLength: random.pick([20, 50, 50]),
      ignitionTime: random.pick([0.5, 2, 2]),
      ignitionLength: random.pick([1.3, 4.9, 14.3]),
      craterTime: random.pick([0.5, 2, 2]),
    },
  };
}

/** The message before which each assignment comes: one that is or is not ended, or another run begun on the way. */
function assignmentsFor(random: Random, messages: number): { before: number; assignment: Assignment | null }[] {
  const make = (run: number): Assignment => ({
    seam: 'S-1',
    run,
    procedure: alarmProcedureId,
    ...(random.chance(0.2) ? { runOn: random.whole(5, 30) } : {}),
    ...(random.chance(0.15) ? { seamLength: random.whole(60, 300) } : {}),
  });
  const made: { before: number; assignment: Assignment | null }[] = [{ before: 0, assignment: make(1) }];
  if (random.chance(0.15)) made.push({ before: random.whole(1, messages), assignment: random.chance(0.7) ? make(2) : null });
  if (random.chance(0.5)) made.push({ before: messages, assignment: null });
  return made;
}

function itemValues(stretch: AlarmStretch, random: Random, arc: number, time: number, count: number, interval: number): { current: Values; voltage: Values } {
  const truth = stretch.arcs[arc];
  const current: number[] = [];
  const voltage: number[] = [];
  for (let k = 0; k < count; k += 1) {
    const at = time + k * interval;
    current.push(truth === undefined ? 0 : truth.current(at, random));
    voltage.push(truth === undefined ? 0 : truth.voltage(at, random));
  }
  return interval === 0 ? { current: current[0] ?? 0, voltage: voltage[0] ?? 0 } : { current, voltage };
}

/** Signed travel in mm up to `time`. */
function placeAt(stretches: readonly AlarmStretch[], time: number): number {
  return stretches.reduce((sum, { from, to, speed }) => sum + (speed / 60_000_000) * Math.max(0, Math.min(time, to) - from), 0);
}

/**
 * A stream of one carriage that stays near the limits of its procedure and crosses them in the ways that alarms must withstand: noise and flapping at
 * a limit and at the deadband, steps, silence, arcs that go out and are lit again further back or further on, craters, a carriage that stops or
 * slips, the wrong polarity. Everything arrives 50 ms after it was made. `moved`: the carriage sends its `travel` and is driven far in the dark, its
 * trailing arc begins late, and its encoder restarts at a second boot.
 */
export function randomAlarms(seed: number, { moved = false }: { readonly moved?: boolean } = {}): AlarmScenario {
  const random = seededRandom(seed);
  const cadence = random.pick(cadences);
  const arcs = random.pick([1, 1, 2]);
  const procedure = withCoolingLimits(procedureFor(random, arcs), arcs * nominal.heatInput, seed);
  const more = moved ? { driven: random.chance(0.7), lateTrail: arcs > 1 && random.chance(0.7) } : { driven: false, lateTrail: false };
  const stretches = alarmStretches(random, procedure, cadence.block > 0 ? 13 : 26, more);
  const end = stretches.at(-1)?.to ?? 0;
  const feed = randomFeed(seed, procedure);
  const encoder = random.chance(0.3) || more.driven;
  const offset = random.pick([0, 0, 37_300]);
  const times: number[] = [];
  for (let at = offset; at < end; at += cadence.every) if (stretches.find(({ to }) => at < to)?.silent === false) times.push(at);
  const assignments = assignmentsFor(random, times.length);
  const rebootAt = moved && random.chance(0.3) ? random.whole(1, times.length) : Number.POSITIVE_INFINITY;
  const newZero = placeAt(stretches, times[rebootAt] ?? 0);
  const events: CarriageEvent[] = [];
  let arrival = 0;
  const assignAt = (message: number): void => {
    for (const { before, assignment } of assignments) if (before === message) events.push({ type: 'assignment', assignment, time: null });
  };
  times.forEach((time, message) => {
    assignAt(message);
    const stretch = stretches.find(({ to }) => time < to);
    if (stretch === undefined) return;
    const count = Math.max(1, cadence.block);
    for (let arc = 0; arc < arcs; arc += 1) {
      const item: ReceivedItem = {
        boot: message < rebootAt ? 'b1' : 'b2',
        seq: message < rebootAt ? message : message - rebootAt,
        time: streamStart + time,
        arc: arc + 1,
        interval: cadence.block > 0 ? 10 : null,
        count,
        ...itemValues(stretch, random, arc, time, count, cadence.block > 0 ? 10_000 : 0),
        ...unsentValues,
        wireFeedSpeed: feed.at(arc + 1),
        travelSpeed: arc === 0 ? stretch.speed : null,
        travel: arc === 0 && encoder ? placeAt(stretches, time) - (message < rebootAt ? 0 : newZero) : null,
        arrived: streamStart + time + 50_000,
        arrival,
      };
      events.push({ type: 'item', item });
      arrival += 1;
    }
  });
  assignAt(times.length);
  return { description: `seed ${seed}: ${cadence.name}, ${arcs} arcs${encoder ? ', encoder' : ''}${Number.isFinite(rebootAt) ? ', two boots' : ''}, ${stretches.map(({ name }) => name).join(' ')}`, events: withPlates(events, seed), procedure: feed.procedure };
}
