import { emptyTally } from '../../shared/weld/item-tally.js';
import { addSeq, emptySeqSet } from '../../shared/weld/seq-marks.js';
import type { BootMarks } from '../../shared/weld/seq-marks-text.js';
import type { BootState, StreamState } from './stream-state.js';

export function noMarks(): BootMarks {
  return { arcs: {}, any: emptySeqSet() };
}

/** The boot's state, new with the next rank where it was never seen. */
export function bootOf(stream: StreamState, boot: string): BootState {
  let own = stream.boots.get(boot);
  if (own === undefined) {
    own = { boot, rank: stream.boots.size, marks: noMarks(), taken: emptyTally(), ahead: 'byMore' };
    stream.boots.set(boot, own);
    if (boot !== '') stream.storedBoots.push(boot);
  }
  return own;
}

/** Notes that a seq was stored or refused, for the `stored` topic; whoever calls says by what the boot is ahead then. */
export function noteSeq(stream: StreamState, own: BootState, seq: number): void {
  addSeq(own.marks.any, seq);
  stream.storedChanged = true;
}
