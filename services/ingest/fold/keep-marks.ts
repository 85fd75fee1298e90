import { writeMarks } from '../../../shared/weld/items/seq-marks-text.js';
import type { FoldDeps } from './fold-deps.js';
import type { Carriage } from './carriage.js';
import type { BootState } from './intake.js';
import { takeMarksDue } from './outbox.js';

/**
 * Queues the marks of a stream's boots to be written when that is due: with its records and checkpoints, and when memory is ahead by more than the
 * kept messages show (a start adds what those show).
 */
export function saveMarks({ id, intake, fold, outbox }: Carriage, deps: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  const boots = [...intake.boots.values()].filter(({ ahead }) => ahead !== 'no');
  const isDue = takeMarksDue(outbox) || fold.fault !== null || boots.some(({ ahead }) => ahead === 'byMore');
  // All boots are written at once, so that each contains the messages up to the newest number with which any of them is written.
  if (isDue) for (const boot of boots) keepMarks(id, boot, deps);
}

/** Queues the marks of a boot to be written as they are now; for long marks, only what has changed since the last time. */
export function keepMarks(id: number, own: BootState, { changes, numbers }: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  own.ahead = 'no';
  const { boot, rank, marks, taken, lost } = own;
  if (lost === true) return;
  const { text, pieces, dropped } = writeMarks(marks);
  changes.boots.push({ stream: id, rank, boot, marks: text, taken: JSON.stringify(taken), through: numbers.message, pieces, dropped });
}
