import { findDrifts, type Drift } from '../../../shared/weld/ahead/find-drifts.js';
import { startSecondMemory, type SecondMemory } from '../../../shared/weld/ahead/second-sums.js';
import { heatInput, type ArcEnergy } from '../../../shared/weld/rows/heat-input.js';
import { presentRates, type PresentRates } from '../../../shared/weld/ahead/present-rates.js';
import { arcColumn, columnOf, rowLength } from '../../../shared/weld/rows/row.js';
import { arcNumber, arcRow, arcsEnd, arcStride, firstArc, type RowGroup } from '../../../shared/weld/rows/row-group.js';
import { tidy } from '../../../shared/weld/run/run-figures.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import { addVariation, startVariation, variationOf, variationRows } from '../../../shared/weld/judging/running-variation.js';
import { newestRows, type RecentRows } from './newest-rows.js';

/** Length over which the local heat input is averaged, mm; common practice, no source. */
const localLength = 50;

const rowsPerSecond = 1e6 / rowLength;

export interface Variations {
  readonly currentVariation: number | null;
  readonly voltageVariation: number | null;
}

/** Values computed over the last seconds of a run that is being welded. */
export interface LiveMeans {
  readonly variations: ReadonlyMap<number, Variations>;
  readonly localHeatInput: number | null;
  readonly rates: PresentRates;
  readonly drifts: readonly Drift[];
}

/** The means of a run as they were last computed. */
export interface HeldMeans {
  readonly ordinal: number;
  /** They cover at least a second. */
  readonly settled: boolean;
  readonly means: LiveMeans;
  readonly memory: SecondMemory;
}

/**
 * The means of a run as they were last computed, or computed again if `anew`. They cover hundreds of rows, so they are computed once a second, when
 * the records are written, and published unchanged in between. They come from the rows in memory each time and are not part of the fold: so a late
 * item does not have to fold them again, and no checkpoint grows.
 */
export function liveMeans(of: RecentRows & { means: HeldMeans | null }, run: RunState, anew: boolean): LiveMeans {
  const before = of.means;
  const sameRun = before?.ordinal === run.ordinal;
  if (sameRun && before.settled && !anew) return before.means;
  const memory = sameRun ? before.memory : startSecondMemory();
  const groups = newestRows(of, run.ordinal);
  const recent = groups.slice(-variationRows);
  const arcs = new Set<number>();
  for (const { rows, at } of recent) {
    const end = arcsEnd(rows, at);
    for (let own = firstArc(at); own < end; own += arcStride) if (columnOf(rows, own, arcColumn.on) > 0) arcs.add(arcNumber(rows, own));
  }
  const means = {
    variations: new Map([...arcs].map((arc) => [arc, variations(arc, recent)])),
    localHeatInput: localHeatInput(arcs, groups, run.sums.parameters.thermalEfficiency),
    rates: presentRates(groups, Object.keys(run.sums.arcs).map(Number)),
    drifts: tidy(findDrifts(groups, run.sums, memory)),
  };
  of.means = { ordinal: run.ordinal, settled: groups.length >= rowsPerSecond, means, memory };
  return means;
}

function variations(arc: number, groups: readonly RowGroup[]): Variations {
  const running = startVariation(arc);
  for (const { rows, at } of groups) {
    const own = arcRow(rows, at, arc);
    if (own !== null) addVariation(running, rows, own);
  }
  return { currentVariation: variationOf(running, 'currentVariation'), voltageVariation: variationOf(running, 'voltageVariation') };
}

/** Energy over length of the newest 50 mm of each arc, added over the arcs, kJ/mm; null while the run is shorter. */
function localHeatInput(arcs: ReadonlySet<number>, groups: readonly RowGroup[], thermalEfficiency: number): number | null {
  const newest: ArcEnergy[] = [];
  for (const arc of arcs) {
    let energy = 0;
    let length = 0;
    for (let k = groups.length - 1; k >= 0 && length < localLength; k -= 1) {
      const group = groups[k];
      if (group === undefined) break;
      const { rows, at } = group;
      const own = arcRow(rows, at, arc);
      if (own === null || columnOf(rows, own, arcColumn.on) === 0) continue;
      const rest = localLength - length;
      const passed = columnOf(rows, own, arcColumn.length);
      const share = passed > rest ? rest / passed : 1;
      energy += columnOf(rows, own, arcColumn.energy) * share;
      length += passed * share;
    }
    if (length < localLength * 0.999) return null;
    newest.push({ energy, length });
  }
  return newest.length === 0 ? null : heatInput(newest, thermalEfficiency);
}
