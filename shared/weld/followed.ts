import type { ArcQuantity, RunQuantity, RunWindows, Window } from './run-windows.js';
import { arcQuantities } from './run-windows.js';

/** One window of a run, and what it is on. */
export interface Followed<Quantity extends string = ArcQuantity | RunQuantity> {
  /** Null where the quantity is the carriage's. */
  readonly arc: number | null;
  readonly quantity: Quantity;
  readonly window: Window;
}

/** The windows that are judged row by row: those on arcs and on travel speed, always in the same order. */
export function followedRows(windows: RunWindows): Followed[] {
  const followed: Followed[] = [];
  for (const [arc, own] of Object.entries(windows.arcs)) {
    for (const quantity of arcQuantities) {
      const window = own[quantity];
      if (window !== undefined) followed.push({ arc: Number(arc), quantity, window });
    }
  }
  const { travelSpeed } = windows.run;
  if (travelSpeed !== undefined) followed.push({ arc: null, quantity: 'travelSpeed', window: travelSpeed });
  return followed;
}

/** The window on heat input, which is judged along the seam. */
export function followedHeat(windows: RunWindows): Followed | null {
  const { heatInput } = windows.run;
  return heatInput === undefined ? null : { arc: null, quantity: 'heatInput', window: heatInput };
}
