import { markPieceSum, rowAsWritten } from '../../shared/records/row-sum.js';
import type { BootMarks, MarkPiece } from '../../shared/weld/seq-marks-text.js';
import { readMarks, writeMarks } from '../../shared/weld/seq-marks-text.js';
import type { Statements } from './statements.js';
import type { BootState } from './stream-state.js';

/** Writes the marks of a boot as they are now, and of long ones what has changed since the last time. Part of the transaction at hand. */
export function keepMarks(own: Pick<BootState, 'id' | 'boot' | 'rank' | 'marks' | 'taken' | 'lost'>, statements: Statements): void {
  if (own.lost === true) return;
  const { id, marks, taken } = own;
  const { text, pieces, dropped } = writeMarks(marks);
  for (const { arc, piece, steps } of pieces) statements.saveMarkPiece.run(id, arc, piece, steps);
  for (const { arc, before } of dropped) statements.dropMarkPieces.run(id, arc, before);
  statements.markBoot.run(text, JSON.stringify(taken), own);
}

/** What reads the marks of each boot of a stream. Throws an error of damage where a piece of them is other than it was written. */
export function storedMarks(stream: number, statements: Statements): (boot: number, text: string) => BootMarks {
  const byBoot = new Map<number, MarkPiece[]>();
  for (const row of statements.markPieces.all(stream)) {
    const { boot_id: boot, arc, piece: number, steps } = rowAsWritten('the marks', row, markPieceSum);
    const piece = { arc, piece: number, steps };
    const own = byBoot.get(boot);
    if (own === undefined) byBoot.set(boot, [piece]);
    else own.push(piece);
  }
  return (boot, text) => readMarks(text, byBoot.get(boot));
}
