import { judgedArcNames, judgedRunNames, quantities, type JudgedArcName, type JudgedRunName } from '../quantities.js';
import type { RunWindows, Window } from './run-windows.js';

/** One window of a run, and the quantity that it limits. */
export interface JudgedWindow<Quantity extends string = JudgedArcName | JudgedRunName> {
  /** Null where the quantity is the carriage's. */
  readonly arc: number | null;
  readonly quantity: Quantity;
  readonly window: Window;
}

/** The windows that are judged row by row, always in the same order: those on arcs, then those of the carriage. */
export function windowsOnRows(windows: RunWindows): JudgedWindow[] {
  const followed: JudgedWindow[] = [];
  for (const [arc, own] of Object.entries(windows.arcs)) {
    for (const quantity of judgedArcNames) {
      const window = own[quantity];
      if (window !== undefined) followed.push({ arc: Number(arc), quantity, window });
    }
  }
  for (const quantity of judgedRunNames) {
    const window = windows.run[quantity];
    if (window !== undefined && quantities[quantity].judged.by !== 'alongSeam') followed.push({ arc: null, quantity, window });
  }
  return followed;
}

/** The window on heat input, which is judged along the seam. */
export function windowOnHeat(windows: RunWindows): JudgedWindow | null {
  const { heatInput } = windows.run;
  return heatInput === undefined ? null : { arc: null, quantity: 'heatInput', window: heatInput };
}
