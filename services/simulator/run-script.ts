import type { CarriagePlan } from './carriage-plan.js';
import { randomFrom } from './random.js';
import { planEvent, type RunEvent } from './run-event.js';
import { planSeam, type SeamPlan } from './seam-plan.js';

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
  /** mm by which the electrode extension is too long, at the stretch's start and end. */
  readonly extension: readonly [number, number];
  readonly sent: boolean;
}

export interface RunScript {
  readonly seam: SeamPlan;
  readonly event: RunEvent;
  readonly stretches: readonly Stretch[];
}

/** mm/min at which the carriage is driven back to light its arcs again. */
const returnSpeed = 900;

/** What the carriage does in its run number `cycle` (from 0); its kinds of event take turns. */
export function scriptRun(plan: CarriagePlan, cycle: number): RunScript {
  const seam = planSeam(plan, cycle);
  const random = randomFrom(plan.seed, 'run', plan.index, cycle);
  const turn = (plan.firstEvent + cycle) % plan.events.length;
  const event = planEvent(plan.events[turn] ?? 'good', seam.travel, random);
  return { seam, event, stretches: stretchesOf(plan, seam, event) };
}

function stretchesOf(plan: CarriagePlan, seam: SeamPlan, event: RunEvent): Stretch[] {
  const all = plan.arcs.map(() => true);
  const none = plan.arcs.map(() => false);
  const behind = Math.max(...plan.offsets);
  const weld = (until: Until, change: Partial<Stretch> = {}): Stretch => ({ on: all, speed: plan.travelSpeed, until, rise: [0, 0], extension: [0, 0], sent: true, ...change });
  const dark = (until: Until, speed = 0): Stretch => ({ on: none, speed, until, rise: [0, 0], extension: [0, 0], sent: true });

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
    case 'extensionDrift':
      stretches.push(
        weld({ travel: event.from }),
        weld({ travel: event.to }, { extension: [0, event.by] }),
        weld({ travel: seam.travel }, { extension: [event.by, event.by] }),
      );
      break;
  }
  stretches.push(weld({ travel: seam.travel }));
  if (behind > 0) stretches.push(weld({ travel: seam.travel + behind }, { on: plan.offsets.map((offset) => offset === behind) }));
  return [...stretches, dark({ seconds: 12 })];
}
