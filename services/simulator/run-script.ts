import type { CarriagePlan } from './carriage-plan.js';
import { randomFrom, type Random } from './random.js';
import { planSeam, type SeamPlan } from './seam-plan.js';

/** Events that happen to a run. All of them are invented; in `good` nothing happens. */
export type RunEvent =
  | { readonly kind: 'good' }
  /** The voltage rises by `rise` V between `from` and `to` mm of travel and stays there until `until`. */
  | { readonly kind: 'voltageDrift'; readonly rise: number; readonly from: number; readonly to: number; readonly until: number }
  /** The track drive slips for `seconds` from `from` mm on: the carriage makes `share` of its set speed. */
  | { readonly kind: 'speedSlip'; readonly share: number; readonly from: number; readonly seconds: number }
  /** All arcs go out at `from` mm and are lit again `overlap` mm before that place. */
  | { readonly kind: 'arcLoss'; readonly from: number; readonly overlap: number }
  /** From `from` mm on the carriage sends nothing for `seconds` while it welds on. */
  | { readonly kind: 'silence'; readonly from: number; readonly seconds: number };

/** When a stretch ends: after a time, at a place (mm travelled), or that far behind where the arcs last went out. */
export type Until = { readonly seconds: number } | { readonly travel: number } | { readonly behindOut: number };

/** One stretch of a run with the same settings. */
export interface Stretch {
  /** Which of the plan's arcs burn. */
  readonly on: readonly boolean[];
  /** What the drive makes, mm/min; negative is backwards. */
  readonly speed: number;
  readonly until: Until;
  /** V by which the source is set too high, at the stretch's start and end. */
  readonly rise: readonly [number, number];
  readonly sent: boolean;
}

export interface RunScript {
  readonly seam: SeamPlan;
  readonly event: RunEvent;
  readonly stretches: readonly Stretch[];
}

const kinds = ['good', 'voltageDrift', 'speedSlip', 'arcLoss', 'silence'] as const;
/** mm/min at which the carriage is driven back to light its arcs again. */
const returnSpeed = 900;

/** What the carriage does in its run number `cycle` (from 0); the kinds of event take turns, and each carriage begins with another. */
export function scriptRun(plan: CarriagePlan, cycle: number): RunScript {
  const seam = planSeam(plan, cycle);
  const random = randomFrom(plan.seed, 'run', plan.index, cycle);
  const turn = (plan.index - 1 + cycle + plan.seed + 4) % kinds.length;
  const event = planEvent(kinds[turn] ?? 'good', seam.travel, random);
  return { seam, event, stretches: stretchesOf(plan, seam, event) };
}

function planEvent(kind: (typeof kinds)[number], length: number, random: Random): RunEvent {
  const place = (from: number, to: number): number => Math.round(length * random.between(from, to));
  switch (kind) {
    case 'good': return { kind };
    case 'voltageDrift':
      return { kind, rise: Math.round(random.between(38, 48)) / 10, from: place(0.25, 0.35), to: place(0.55, 0.65), until: place(0.75, 0.8) };
    case 'speedSlip': return { kind, share: Math.round(random.between(45, 58)) / 100, from: place(0.3, 0.6), seconds: random.whole(5, 8) };
    case 'arcLoss': return { kind, from: place(0.4, 0.6), overlap: random.whole(12, 25) };
    case 'silence': return { kind, from: place(0.35, 0.6), seconds: random.whole(12, 18) };
  }
}

function stretchesOf(plan: CarriagePlan, seam: SeamPlan, event: RunEvent): Stretch[] {
  const all = plan.arcs.map(() => true);
  const none = plan.arcs.map(() => false);
  const behind = Math.max(...plan.offsets);
  const weld = (until: Until, change: Partial<Stretch> = {}): Stretch => ({ on: all, speed: plan.travelSpeed, until, rise: [0, 0], sent: true, ...change });
  const dark = (until: Until, speed = 0): Stretch => ({ on: none, speed, until, rise: [0, 0], sent: true });

  const stretches = [dark({ seconds: 3 })];
  // The trailing arc is lit where the leading one was, and goes on to where the leading one stopped.
  if (behind > 0) stretches.push(weld({ travel: behind }, { on: plan.offsets.map((offset) => offset === 0) }));
  switch (event.kind) {
    case 'good':
      break;
    case 'voltageDrift':
      stretches.push(
        weld({ travel: event.from }),
        weld({ travel: event.to }, { rise: [0, event.rise] }),
        weld({ travel: event.until }, { rise: [event.rise, event.rise] }),
      );
      break;
    case 'speedSlip':
      stretches.push(weld({ travel: event.from }), weld({ seconds: event.seconds }, { speed: plan.travelSpeed * event.share }));
      break;
    case 'arcLoss':
      stretches.push(
        weld({ travel: event.from }),
        // The operator needs a moment to stop the carriage, and longer to free the wire and clear the slag.
        dark({ seconds: 0.6 }, plan.travelSpeed),
        dark({ seconds: 6 }),
        dark({ behindOut: event.overlap }, -returnSpeed),
        dark({ seconds: 2 }),
      );
      break;
    case 'silence':
      stretches.push(weld({ travel: event.from }), weld({ seconds: event.seconds }, { sent: false }));
      break;
  }
  stretches.push(weld({ travel: seam.travel }));
  if (behind > 0) stretches.push(weld({ travel: seam.travel + behind }, { on: plan.offsets.map((offset) => offset === behind) }));
  return [...stretches, dark({ seconds: 12 })];
}
