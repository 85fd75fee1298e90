import { markPieceSum, rowAsWritten } from '../../../shared/records/row-sum.js';
import type { BootMarks, MarkPiece } from '../../../shared/weld/seq-marks-text.js';
import { readMarks } from '../../../shared/weld/seq-marks-text.js';
import type { Statements } from '../statements.js';

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
