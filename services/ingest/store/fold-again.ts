import { columnOf, runColumn } from '../../../shared/weld/row.js';
import type { RowGroup } from '../../../shared/weld/row-group.js';
import { startFold } from '../../../shared/weld/carriage-fold.js';
import type { FoldState } from '../../../shared/weld/carriage-fold.js';
import { readRowGroups } from '../../../shared/traces/row-groups.js';
import { checkAccount } from '../check-account.js';
import { decodeKept } from '../decode-kept.js';
import { isLocked } from '../fold-deps.js';
import { itemsBehind, refold } from '../fold-stream.js';
import type { FoldBeginning } from '../fold-stream.js';
import { guardStream } from '../guard-stream.js';
import type { StreamAccess } from '../stream-access.js';
import type { StreamState, SumsUnder } from '../stream-state.js';
import { addUnder, restartUnder } from '../sums-under.js';
import { keptFrom } from './kept-rows.js';
import { findBeginning } from './read-checkpoints.js';

/** Folds a stream again that has to be, from what is stored of it: nothing of what the commit at hand changes may be its own. */
export function foldAgain(stream: StreamState, streams: StreamAccess): void {
  if (stream.dirtyFrom === null) return;
  const { steady } = streams.fold;
  const begun = steady();
  guardStream(stream, streams, () => {
    refold(stream, readBeginning(stream, streams), streams.fold);
  });
  stream.refoldCost = (steady() - begun) / 1e3;
  stream.refoldedAt = steady() / 1e3;
}

function readBeginning(stream: StreamState, streams: StreamAccess): FoldBeginning {
  const { statements, fold } = streams;
  const found = findBeginning(stream, statements, fold);
  const items = keptFrom(stream, found.keptFrom, statements).flatMap((message) => decodeKept(stream, message));
  const state = found.state ?? startFold();
  // Afterwards memory stands beside the store, and what is lost there is no longer folded from.
  if (stream.refoldedAt === null) checkAccount(stream, state.held, itemsBehind({ state, items }), statements);
  return { ...found, state, items, under: readOpenRun(stream, state, streams) };
}

/** Of the run that goes on from before the rows that stay: whether they can be read, and their sums where a person gave it another assignment. */
function readOpenRun(stream: StreamState, { merge }: FoldState, { fold, checkTrace, traces }: StreamAccess): SumsUnder | null {
  const open = merge.run ?? merge.resumable;
  const entry = open === null ? undefined : stream.runs.get(open.ordinal);
  if (entry === undefined || isLocked(entry, fold)) return null;
  checkTrace(entry.id);
  const under = restartUnder(entry, fold);
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
