import { judgedArcNames, judgedRunNames, quantities, seamJudgedNames, type JudgedArcName, type JudgedRunName, type SeamJudgedName } from '../quantities.js';
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

/** The windows that are judged along the seam, in the order of the table of quantities. */
export function windowsAlongSeam(windows: RunWindows): JudgedWindow<SeamJudgedName>[] {
  return seamJudgedNames.flatMap((quantity) => {
    const window = windows.run[quantity];
    return window === undefined ? [] : [{ arc: null, quantity, window }];
  });
}
