import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import { cutOffRow } from '../../../shared/weld/rows/ended-rows.js';
import { addRow, cloneRunSums, startRunSums, type RunSums } from '../../../shared/weld/run/run-sums.js';
import { runParameters, type KnownOfRun } from '../../../shared/weld/procedure/zone.js';
import type { FoldDeps } from './fold-deps.js';
import type { RunEntry, SumsUnder } from './run-book.js';

/** Begins to sum rows under the assignment that a person gave a run, the revision that came with it, and what else is known of the run. */
export function startUnder(assignment: Assignment | null, revision: number | null, known: KnownOfRun, { procedures }: Pick<FoldDeps, 'procedures'>): SumsUnder {
  return { sums: startRunSums(runParameters(assignment, procedures.parameters(assignment, revision), known)), last: null, dark: [] };
}

/** Begins again for a run whose rows are read again from the first; null if no person gave it an assignment. */
export function restartUnder({ override, revision }: RunEntry, known: KnownOfRun, deps: Pick<FoldDeps, 'procedures'>): SumsUnder | null {
  return override === null ? null : startUnder(JSON.parse(override) as Assignment, revision, known, deps);
}

/** Adds a final row. A dark row counts once an arc burns after it; if the run ends before that, it is dropped. */
export function addUnder(under: SumsUnder | null, group: RowGroup): void {
  if (under === null) return;
  under.dark.push(group);
  if (columnOf(group.rows, group.at, runColumn.on) === 0) return;
  for (const { rows, at } of under.dark) addRow(under.sums, rows, at);
  under.last = group;
  under.dark = [];
}

/** The sums over all rows before the index `end`, including the provisional ones; `ended` is when the run ended with its arcs out, µs, or null. */
export function presentUnder({ sums, last, dark }: SumsUnder, provisional: readonly RowGroup[], end: number, ended: number | null): RunSums {
  const present = cloneRunSums(sums);
  let newest = last;
  for (const own of [...dark, ...provisional]) {
    if (columnOf(own.rows, own.at, runColumn.index) >= end) continue;
    addRow(present, own.rows, own.at);
    newest = own;
  }
  const cutOff = newest === null ? null : cutOffRow(newest, ended);
  if (cutOff !== null) addRow(present, cutOff.rows, cutOff.at);
  return present;
}
