import { writeMarks } from '../../../shared/weld/items/seq-marks-text.js';
import type { FoldDeps } from './fold-deps.js';
import type { Carriage } from './carriage.js';
import type { BootState } from './intake.js';
import { takeMarksDue } from './outbox.js';

/**
 * Has the marks of a stream's boots written where that is due: with its records and its checkpoints, and where they are ahead by more than the
 * kept messages tell, which a start adds to them.
 */
export function saveMarks({ id, intake, fold, outbox }: Carriage, deps: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  const boots = [...intake.boots.values()].filter(({ ahead }) => ahead !== 'no');
  const isDue = takeMarksDue(outbox) || fold.fault !== null || boots.some(({ ahead }) => ahead === 'byMore');
  // All of them at once, so that each holds the messages up to the newest number that any of them is written with.
  if (isDue) for (const boot of boots) keepMarks(id, boot, deps);
}

/** Has the marks of a boot written as they are now, and of long ones what has changed since the last time. */
export function keepMarks(id: number, own: BootState, { changes, numbers }: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  own.ahead = 'no';
  const { boot, rank, marks, taken, lost } = own;
  if (lost === true) return;
  const { text, pieces, dropped } = writeMarks(marks);
  changes.boots.push({ stream: id, rank, boot, marks: text, taken: JSON.stringify(taken), through: numbers.message, pieces, dropped });
}
