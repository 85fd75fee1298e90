import type { DriftingName } from '../quantities.js';
import type { RowGroup } from '../rows/row-group.js';
import type { Window } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';
import { addToDrift, type DriftTrack } from './drift-track.js';
import { secondSums, type SecondMemory } from './second-sums.js';

export interface DriftingSeries {
  readonly arc: number | null;
  readonly quantity: DriftingName;
  readonly window: Window;
  readonly track: DriftTrack;
}

/** Feeds rows from index `since` on to the tracks of one arc, or (`ofRun`) of the run. */
export function feedDrift(followed: readonly DriftingSeries[], rows: readonly RowGroup[], of: number, since: number, parameters: RunParameters, memory: SecondMemory): void {
  if (followed.length === 0) return;
  for (const { second, sums } of secondSums(rows, of, since, parameters, memory)) {
    for (const { quantity, track } of followed) {
      const sum = sums[quantity];
      if (sum !== undefined && sum.rows > 0) addToDrift(track, second, sum.value, sum.weight);
    }
  }
}
