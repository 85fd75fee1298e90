import { writeMarks } from '../../shared/weld/seq-marks-text.js';
import type { FoldDeps } from './fold-deps.js';
import type { BootState, StreamState } from './stream-state.js';

/**
 * Has the marks of a stream's boots written where that is due: with its records and its checkpoints, and where they are ahead by more than the
 * kept messages tell, which a start adds to them.
 */
export function saveMarks(stream: StreamState, deps: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  const boots = [...stream.boots.values()].filter(({ ahead }) => ahead !== 'no');
  const isDue = stream.marksDue || stream.fault !== null || boots.some(({ ahead }) => ahead === 'byMore');
  stream.marksDue = false;
  // All of them at once, so that each holds the messages up to the newest number that any of them is written with.
  if (isDue) for (const boot of boots) keepMarks(stream, boot, deps);
}

/** Has the marks of a boot written as they are now, and of long ones what has changed since the last time. */
export function keepMarks({ id }: Pick<StreamState, 'id'>, own: BootState, { changes, numbers }: Pick<FoldDeps, 'changes' | 'numbers'>): void {
  own.ahead = 'no';
  const { boot, rank, marks, taken, lost } = own;
  if (lost === true) return;
  const { text, pieces, dropped } = writeMarks(marks);
  changes.boots.push({ stream: id, rank, boot, marks: text, taken: JSON.stringify(taken), through: numbers.message, pieces, dropped });
}
