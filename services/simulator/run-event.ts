import type { Random } from './random.js';

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
  | { readonly kind: 'silence'; readonly from: number; readonly seconds: number }
  /** The contact tube wears or rises: the electrode extension grows by `by` mm between `from` and `to` mm of travel and stays so. */
  | { readonly kind: 'extensionDrift'; readonly by: number; readonly from: number; readonly to: number };

export type EventKind = RunEvent['kind'];

/** What happens to the carriages that are not there to show one thing. */
export const usualEvents = ['good', 'voltageDrift', 'speedSlip', 'arcLoss', 'silence'] as const satisfies readonly EventKind[];

/** mm at both ends of a run over which the electrode extension stays as it is: more than the tab and 100 mm of weld, from which a drift can be told. */
const steadyEnd = 180;

/** An event of this kind in a run of `length` mm. */
export function planEvent(kind: EventKind, length: number, random: Random): RunEvent {
  const place = (from: number, to: number): number => Math.round(length * random.between(from, to));
  switch (kind) {
    case 'good': return { kind };
    case 'voltageDrift':
      return { kind, rise: Math.round(random.between(38, 48)) / 10, from: place(0.25, 0.35), to: place(0.55, 0.65), until: place(0.75, 0.8) };
    case 'speedSlip': return { kind, share: Math.round(random.between(45, 58)) / 100, from: place(0.3, 0.6), seconds: random.whole(5, 8) };
    case 'arcLoss': return { kind, from: place(0.4, 0.6), overlap: random.whole(12, 25) };
    case 'silence': return { kind, from: place(0.35, 0.6), seconds: random.whole(12, 18) };
    case 'extensionDrift': return { kind, by: random.whole(20, 28) / 2, from: steadyEnd, to: length - steadyEnd };
  }
}
