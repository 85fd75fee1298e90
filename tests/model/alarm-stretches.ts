import type { AlarmProcedure } from './alarm-types.js';
import type { Random } from './seeded-random.js';
import type { PlainWindow } from './window-types.js';

/** The nominal weld of the procedures: 600 A, 30 V, 550 mm/min; heat input of one arc 600 · 30 · 60 / (550 · 1000) kJ/mm. */
export const nominal = { current: 600, voltage: 30, travelSpeed: 550, heatInput: 1.9636 } as const;

type Signal = (time: number, random: Random) => number;

/** What the carriage really does over a stretch; times in µs from the stream's start, speed in mm/min. */
export interface AlarmStretch {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly silent: boolean;
  readonly speed: number;
  readonly arcs: readonly { readonly current: Signal; readonly voltage: Signal }[];
}

const noisy = (value: number, noise: number): Signal => (_, random) => value + random.between(-noise, noise);

/** A square wave between two values. */
const flapping = (a: number, b: number, period: number, noise: number): Signal => (time, random) => (time % period < period / 2 ? a : b) + random.between(-noise, noise);

/** One end of a window, and the step (outwards) to the edge of its deadband. */
function endOf(random: Random, window: PlainWindow | undefined, deadband: number, otherwise: number, room: number): { limit: number; out: number; inset: number } {
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = window ?? { min: otherwise - room, max: otherwise + room };
  const upper = Number.isFinite(max) && (!Number.isFinite(min) || random.chance(0.5));
  const limit = upper ? max : min;
  const inset = Number.isFinite(max - min) ? (max - min) * deadband : Math.abs(limit) * 0.01;
  return { limit, out: upper ? 1 : -1, inset };
}

/** A signal that stays near a limit in one of the ways that alarms must withstand. `room` is half the usual width of a window. */
function troubled(random: Random, window: PlainWindow | undefined, deadband: number, value: number, room: number): { name: string; signal: Signal } {
  const { limit, out, inset } = endOf(random, window, deadband, value, room);
  const noise = room * random.pick([0.01, 0.05, 0.2]);
  const period = random.pick([200_000, 400_000, 1_000_000, 2_000_000, 4_000_000, 7_000_000]);
  const outside = limit + out * room * random.between(0.05, 1);
  const inside = limit - out * (inset + room * random.between(0.05, 0.5));
  return random.pick([
    { name: 'noise-at-limit', signal: noisy(limit, noise) },
    { name: 'noise-at-deadband', signal: noisy(limit - out * inset, noise) },
    { name: 'flaps-at-limit', signal: flapping(limit + out * noise, limit - out * noise, period, noise / 2) },
    { name: 'flaps-across', signal: flapping(outside, inside, period, noise / 2) },
    { name: 'flaps-in-deadband', signal: flapping(outside, limit - out * inset * random.between(0.2, 0.9), period, noise / 4) },
    { name: 'step', signal: noisy(outside, noise / 2) },
    { name: 'step', signal: noisy(outside, noise / 2) },
  ]);
}

/** What else a carriage does. */
export interface StretchOptions {
  /** The carriage is driven far with its arc off, so that lighting it there is not a restart. */
  readonly driven: boolean;
  /** The arcs behind arc 1 begin long after it, when its heat input has been judged alone. */
  readonly lateTrail: boolean;
}

/** Stretches of about `seconds` that make the weld of a procedure go wrong. */
export function alarmStretches(random: Random, procedure: AlarmProcedure, seconds: number, { driven, lateTrail }: StretchOptions = { driven: false, lateTrail: false }): AlarmStretch[] {
  const group = procedure.runGroups[0];
  const own = group?.arcs ?? [];
  const { deadband = 0.05, craterTime = 2 } = procedure.alarm ?? {};
  // The mean of a row between 0 and 60 mm/min would equal the limit of 30, except for its last bits.
  const fastest = driven || lateTrail ? 64 : 60;
  const signs = own.map(({ polarity }) => (polarity === 'EN' ? random.pick([-1, -1, 1]) : 1));
  const steady = (): { current: Signal; voltage: Signal }[] =>
    own.map((_, i) => ({ current: noisy(nominal.current * (signs[i] ?? 1), 8), voltage: noisy(nominal.voltage, 0.4) }));
  const dark = { current: () => 0, voltage: () => 0 };
  const stretches: AlarmStretch[] = [];
  let now = 0;
  let speed: number = nominal.travelSpeed;
  const add = (name: string, duration: number, arcs: AlarmStretch['arcs'], more: { speed?: number; silent?: boolean } = {}): void => {
    const to = now + Math.round(duration * 1_000_000);
    stretches.push({ name, from: now, to, silent: more.silent ?? false, speed: more.speed ?? speed, arcs });
    now = to;
  };
  const allDark = own.map(() => dark);
  const trouble = (duration: number, name = ''): void => {
    const arcs = steady();
    const at = random.whole(0, own.length - 1);
    const windows = own[at];
    const sign = signs[at] ?? 1;
    const which = random.pick(['current', 'voltage'] as const);
    const { name: kind, signal } = troubled(random, windows?.[which], deadband, nominal[which], which === 'current' ? 40 : 2);
    const before = arcs[at];
    if (before !== undefined) arcs[at] = { ...before, [which]: which === 'current' ? (time: number, own: Random) => sign * signal(time, own) : signal };
    add(name + kind, duration, arcs);
  };
  const slip = (): void => {
    const { limit, out } = endOf(random, group?.travelSpeed, deadband, nominal.travelSpeed, 70);
    add('slip', random.between(1, 9), steady(), { speed: limit + out * random.between(5, 160) });
  };
  const wrongPolarity = (): void => {
    const arcs = steady();
    const at = random.whole(0, own.length - 1);
    const sign = signs[at] ?? 1;
    const before = arcs[at];
    const flap = random.chance(0.3);
    const turned = noisy(-sign * nominal.current, 8);
    if (before !== undefined) arcs[at] = { ...before, current: flap ? (time, own) => (time % 3_000_000 < 1_400_000 ? -1 : 1) * turned(time, own) : turned };
    add('polarity', random.between(0.4, 6), arcs);
  };
  const goOut = (): void => {
    // Trouble only in the crater: for less than the crater time, or a little more.
    if (random.chance(0.6)) trouble(Math.min(3, craterTime * random.between(0.4, 1.15)), 'crater-');
    if (own.length > 1 && random.chance(0.4)) {
      const arcs = steady();
      const first = random.whole(0, own.length - 1);
      arcs[first] = dark;
      add('one-out', random.between(0.4, 8), arcs);
    }
  };
  const relight = (): void => {
    if (driven && random.chance(0.6)) {
      // 250 to 900 mm: 300 is where a restart ends and another attempt begins.
      add('driven', random.between(2.5, 9), allDark, { speed: random.pick([-6_000, 6_000]) });
      return;
    }
    const back = random.pick([-300, -600, 0, 0, 400]);
    add('dark', random.between(0.5, 5), allDark, { speed: back });
  };
  if (random.chance(0.4)) add('dark', random.between(0.2, 2), allDark, { speed: 0 });
  if (lateTrail) {
    const alone = (arcs: AlarmStretch['arcs']): AlarmStretch['arcs'] => arcs.map((arc, i) => (i === 0 ? arc : dark));
    const begun = stretches.length;
    add('steady', random.between(3, 8), steady());
    trouble(random.between(1, 6));
    if (random.chance(0.3)) slip();
    if (random.chance(0.3)) relight();
    if (random.chance(0.5)) add('steady', random.between(1, 6), steady());
    for (const [at, stretch] of stretches.entries()) if (at >= begun) stretches[at] = { ...stretch, name: `alone-${stretch.name}`, arcs: alone(stretch.arcs) };
  }
  add('steady', random.between(2, 8), steady());
  while (now < seconds * 1_000_000) {
    const next = random.next();
    if (next < 0.34) trouble(random.between(0.5, 9));
    else if (next < 0.46) slip();
    else if (next < 0.53) add('stands', random.between(0.5, 6), steady(), { speed: random.pick([0, 0, 20, fastest]) });
    else if (next < 0.6) wrongPolarity();
    else if (next < 0.72) add('silent', random.pick([random.between(0.3, 2), random.between(2, 12)]), steady(), { silent: true });
    else if (next < 0.82) {
      goOut();
      relight();
    } else if (own.length > 1 && next < 0.88) {
      const arcs = steady();
      arcs[random.whole(0, own.length - 1)] = dark;
      add('one-out', random.between(0.4, 6), arcs);
    }
    if (random.chance(0.5)) add('steady', random.between(0.3, 7), steady());
    if (random.chance(0.1)) speed = random.pick([510, 550, 590]);
  }
  if (random.chance(0.75)) {
    goOut();
    add('dark', random.between(0.4, 4), allDark, { speed: random.pick([0, 0, 550]) });
  }
  return stretches;
}
