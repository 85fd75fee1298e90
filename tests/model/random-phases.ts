import type { Random } from './seeded-random.js';

/** What the carriage really does over a stretch; the messages are made from these. */
export interface Phase {
  /** µs from the stream's start. */
  readonly from: number;
  readonly to: number;
  /** Nothing is sent. */
  readonly silent: boolean;
  readonly speed: number;
  readonly arcs: readonly PhaseArc[];
}

export interface PhaseArc {
  readonly on: boolean;
  readonly current: number;
  readonly voltage: number;
  /** Stretches in which the current or the voltage drops out. */
  readonly losses: readonly { readonly from: number; readonly to: number }[];
  readonly contacts: readonly { readonly from: number; readonly to: number }[];
}

export interface PhaseOptions {
  readonly arcs: number;
  readonly blocks: boolean;
  readonly longHoles: boolean;
  /** Also cases that the rules leave open: a carriage that moves on while all arcs are dark and nothing is sent. */
  readonly open: boolean;
  /** In the dark the carriage may be driven far. */
  readonly driven: boolean;
}

interface Plan {
  readonly kind: 'burn' | 'dark' | 'loss' | 'between' | 'silent';
  readonly seconds: number;
}

function planPhases(random: Random, options: PhaseOptions): Plan[] {
  const total = options.blocks ? random.between(6, 14) : random.between(40, 150);
  const scale = options.blocks ? 0.15 : 1;
  const plan: Plan[] = [];
  let seconds = 0;
  const add = (kind: Plan['kind'], length: number): void => {
    plan.push({ kind, seconds: length });
    seconds += length;
  };
  if (random.chance(0.5)) add('dark', random.between(0.2, 4) * scale);
  while (seconds < total) {
    add('burn', random.between(2, 30) * scale);
    const next = random.next();
    if (next < 0.3) add('dark', random.between(0.3, 20) * scale);
    else if (next < 0.4) add('loss', random.between(0.05, 0.35));
    else if (next < 0.5) add('between', random.between(0.1, 2));
    else if (next < 0.75) add('silent', options.longHoles && random.chance(0.06) ? random.between(905, 1000) : random.between(0.3, 12));
    if (plan.at(-1)?.kind === 'silent' && random.chance(0.4)) add('dark', random.between(0.1, 8) * scale);
    if (plan.at(-1)?.kind === 'dark' && random.chance(0.15)) add('silent', random.between(0.5, 20));
  }
  if (random.chance(0.7)) add('dark', random.between(0.5, 3));
  return plan;
}

function dips(random: Random, from: number, to: number, least: number, most: number): { from: number; to: number }[] {
  return Array.from({ length: random.whole(0, 4) }, () => {
    const start = random.whole(from, to);
    return { from: start, to: start + random.whole(least, most) };
  });
}

export function randomPhases(random: Random, options: PhaseOptions): Phase[] {
  const plan = planPhases(random, options);
  const phases: Phase[] = [];
  let from = 0;
  let speed = random.pick([300, 450, 550, 600, 900]);
  const levels = (): { on: boolean; current: number; voltage: number }[] =>
    Array.from({ length: options.arcs }, (_, arc) => ({
      on: arc === 0 || random.chance(0.8),
      current: random.whole(150, 900),
      voltage: random.whole(24, 40),
    }));
  let burning = levels();
  plan.forEach(({ kind, seconds }, i) => {
    const to = from + Math.round(seconds * 1_000_000);
    // a silence that ends or begins with the arc off would leave its travel open, so the carriage stands still
    const next = plan[i + 1];
    const after = plan[i + 2];
    const silentDark = next?.kind === 'silent' && (kind === 'dark' || after === undefined || after.kind === 'dark' || next.seconds > 59);
    if (kind === 'burn' && plan[i - 1]?.kind !== 'silent') burning = levels();
    if (random.chance(0.5)) speed = random.pick([240, 300, 450, 550, 600, 900, -300, 0]);
    const dark = { on: false, current: random.chance(0.5) ? 0 : 4, voltage: random.chance(0.5) ? 0 : 60, losses: [], contacts: [] };
    const arcs = burning.map((level, arc) => {
      if (!level.on || kind === 'dark' || (kind === 'loss' && arc === 0)) return dark;
      if (kind === 'between') return { ...dark, on: true, current: random.whole(15, 45), voltage: 25 };
      return { ...level, losses: dips(random, from, to, 2_000, 40_000), contacts: dips(random, from, to, 1_000, 6_000) };
    });
    const standing = silentDark && !options.open;
    // in the dark a carriage is driven back, or on to another place, at full speed
    const driven = options.driven && kind === 'dark' && random.chance(0.3) ? random.pick([-3_000, 3_000]) : speed;
    phases.push({ from, to, silent: kind === 'silent', speed: standing || (kind === 'dark' && random.chance(0.5)) ? 0 : driven, arcs });
    from = to;
  });
  return phases;
}
