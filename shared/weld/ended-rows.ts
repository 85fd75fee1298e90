import type { ArcRow, RunRow, RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import { noSpreads, spreadColumns } from './spread-sum.js';
import { burntTo, wentOut } from './zone-spans.js';

/**
 * The stored rows of a run, and behind them the one that was cut off where it had ended (µs of corrected time; null while it goes on) just as a row did:
 * that its arcs went out stands in the next row, in which nothing burnt.
 */
export function* endedRows(groups: Iterable<RunRowGroup>, ended: number | null): Generator<RunRowGroup> {
  let last: RunRowGroup | null = null;
  for (const group of groups) {
    last = group;
    yield group;
  }
  const cutOff = last === null ? null : cutOffRow(last, ended);
  if (cutOff !== null) yield cutOff;
}

/** The row that was cut off behind the last one of a run, where one was. */
export function cutOffRow(last: RunRowGroup, ended: number | null): RunRowGroup | null {
  if (ended !== (last.run.index + 1) * rowLength) return null;
  const out = last.arcs.filter(({ row }) => row.on > 0 && !wentOut(row) && burntTo(row) === rowLength);
  return out.length === 0 ? null : { run: darkRun(last.run), arcs: out.map(({ arc, row }) => ({ arc, row: darkArc(row) })) };
}

function darkRun({ index, travelled, advance }: RunRow): RunRow {
  return {
    index: index + 1, from: 0, on: 0, gap: 0, length: 0, gapLength: 0, travelled: travelled + advance, advance: 0, speedTime: 0, speed: 0, speedSquared: 0,
    minSpeed: Infinity, maxSpeed: -Infinity, travelSpeed: Number.NaN, flags: 0,
  };
}

function darkArc({ index, travelled }: ArcRow): ArcRow {
  return {
    index: index + 1, from: 0, covered: 0, on: 0, gap: 0, samples: 0, current: 0, voltage: 0, energy: 0, currentSquared: 0, voltageSquared: 0,
    minCurrent: Number.NaN, maxCurrent: Number.NaN, minVoltage: Number.NaN, maxVoltage: Number.NaN, length: 0, travelled, ...spreadColumns(noSpreads()),
    plateTemperature: Number.NaN, extinctions: Number.NaN, shortCircuits: Number.NaN, flags: arcRowFlags.out,
  };
}
