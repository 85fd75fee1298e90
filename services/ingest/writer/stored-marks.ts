import { markPieceSum, rowAsWritten } from '../../../shared/records/row-sum.js';
import { readMarks, type BootMarks, type MarkPiece } from '../../../shared/weld/items/seq-marks-text.js';
import { tallyItem } from '../../../shared/weld/items/item-tally.js';
import { bootName } from '../../../shared/weld/items/order.js';
import { addSeq, emptySeqSet } from '../../../shared/weld/items/seq-marks.js';
import { decodeKept } from '../fold/decode-kept.js';
import type { Statements } from '../store/statements.js';
import { keptFrom } from '../store/kept-rows.js';
import type { Carriage } from '../fold/carriage.js';
import { bootOf } from '../fold/intake.js';

/** Returns a function that reads the marks of a boot. It throws an error of damage if a piece of them differs from what was written. */
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

/** Adds to the marks the items that counted in the kept messages after the number `through`; null if the marks contain all of them. */
export function bringMarksForward(carriage: Pick<Carriage, 'id' | 'site' | 'carriage' | 'intake'>, through: number | null, statements: Statements): void {
  if (through === null) return;
  for (const message of keptFrom(carriage, through + 1, statements)) {
    for (const item of decodeKept(carriage.intake, message)) {
      const boot = bootOf(carriage.intake, bootName(item));
      if (item.boot !== null && item.seq !== null) {
        addSeq((boot.marks.arcs[item.arc] ??= emptySeqSet()), item.seq);
        addSeq(boot.marks.any, item.seq);
      }
      if (boot.taken !== null) tallyItem(boot.taken, item);
      boot.ahead = 'byKept';
    }
  }
}
