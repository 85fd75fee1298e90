import type { ChangeSet } from '../../shared/records/change-set.js';
import { writeMarks } from '../../shared/weld/seq-marks-text.js';
import type { BootState, StreamState } from './stream-state.js';

/** Has the marks of a boot written as they are now, and of long ones what has changed since the last time. */
export function keepMarks({ id }: Pick<StreamState, 'id'>, { boot, rank, marks, taken, lost }: BootState, changes: ChangeSet): void {
  if (lost === true) return;
  const { text, pieces, dropped } = writeMarks(marks);
  changes.boots.push({ stream: id, rank, boot, marks: text, taken: JSON.stringify(taken), pieces, dropped });
}
