import type { BootMarks, MarkPiece } from '../../shared/weld/seq-marks-text.js';
import { readMarks, writeMarks } from '../../shared/weld/seq-marks-text.js';
import type { Statements } from './statements.js';
import type { BootState } from './stream-state.js';

/** Writes the marks of a boot as they are now, and of long ones what has changed since the last time. Part of the transaction at hand. */
export function keepMarks({ id, marks, taken }: Pick<BootState, 'id' | 'marks' | 'taken'>, statements: Statements): void {
  const { text, pieces, dropped } = writeMarks(marks);
  for (const { arc, piece, steps } of pieces) statements.saveMarkPiece.run(id, arc, piece, steps);
  for (const { arc, before } of dropped) statements.dropMarkPieces.run(id, arc, before);
  statements.markBoot.run(text, JSON.stringify(taken), id);
}

/** What reads the marks of each boot of a stream. */
export function storedMarks(stream: number, statements: Statements): (boot: number, text: string) => BootMarks {
  const byBoot = new Map<number, MarkPiece[]>();
  for (const { boot_id: boot, ...piece } of statements.markPieces.all(stream)) {
    const own = byBoot.get(boot);
    if (own === undefined) byBoot.set(boot, [piece]);
    else own.push(piece);
  }
  return (boot, text) => readMarks(text, byBoot.get(boot));
}
