import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import { startFold, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { readRowGroups } from '../../../shared/traces/row-groups.js';
import { checkAccount } from './check-account.js';
import { decodeKept } from '../fold/decode-kept.js';
import { isLocked } from '../fold/fold-deps.js';
import { itemsBehind, refold, type FoldBeginning } from '../fold/fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { StreamAccess } from './stream-access.js';
import type { Carriage } from '../fold/carriage.js';
import { addUnder, restartUnder } from '../fold/sums-under.js';
import { keptFrom } from '../store/kept-rows.js';
import { findBeginning } from './read-checkpoints.js';
import { entryOf, type SumsUnder } from '../fold/run-book.js';
import { knownUnder } from '../fold/run-temperature.js';

/** Folds a stream again from what is stored of it: the current commit must not have changes of this stream yet. */
export function foldAgain(carriage: Carriage, streams: StreamAccess): void {
  const { fold } = carriage;
  if (fold.dirtyFrom === null) return;
  const { steady } = streams.fold;
  const begun = steady();
  guardStream(carriage, streams, () => { refold(carriage, readBeginning(carriage, streams), streams.fold); });
  fold.refoldCost = (steady() - begun) / 1e3;
  fold.refoldedAt = steady() / 1e3;
}

function readBeginning(carriage: Carriage, streams: StreamAccess): FoldBeginning {
  const { statements, fold } = streams;
  const found = findBeginning(carriage, statements, fold);
  const items = keptFrom(carriage, found.keptFrom, statements).flatMap((message) => decodeKept(carriage.intake, message));
  const state = found.state ?? startFold();
  // Checked only after reading the stream: later, memory exists beside the store, and what is lost there is no longer used for folding.
  if (carriage.fold.refoldedAt === null) checkAccount(carriage, state.held, itemsBehind({ state, items }), statements);
  return { ...found, state, items, under: readOpenRun(carriage, state, streams) };
}

/** Checks that the rows of a run that continues across the beginning can be read, and returns their sums if a person gave it another assignment. */
function readOpenRun(carriage: Carriage, { merge }: FoldState, { fold, checkTrace, traces }: StreamAccess): SumsUnder | null {
  const run = merge.run ?? merge.resumable;
  const entry = entryOf(carriage.runs, run);
  if (run === null || entry === undefined || isLocked(entry, fold)) return null;
  checkTrace(entry.id);
  const under = restartUnder(entry, knownUnder(carriage, entry, run, fold), fold);
  if (under === null) return null;
  for (const group of rowsBefore(traces, entry.id, merge.next ?? 0)) addUnder(under, group);
  return under;
}

function* rowsBefore(traces: StreamAccess['traces'], run: string, end: number): Generator<RowGroup> {
  for (const group of readRowGroups(traces, run)) {
    if (columnOf(group.rows, group.at, runColumn.index) >= end) return;
    yield group;
  }
}
