import type { Timers } from '../clock.js';
import type { ImportRow } from '../store/import-statements.js';
import type { Recorder } from './recorder-options.js';

/** Rows of a run that are removed in one commit, as a stretch of 100 ms rows. */
const rowsAtOnce = 20_000;

/** Removes a log that did not come to its end, its rows a stretch at a time from the end on, so that messages are taken in between. */
export async function forgetImport(row: ImportRow, recorder: Recorder, timers: Timers): Promise<void> {
  for (const id of JSON.parse(row.runs) as string[]) {
    for (;;) {
      const left = recorder.change(({ traces }) => traces.extent(id), (extent, { fold: { traces } }) => {
        if (extent === null) return false;
        const from = extent.last + 1 - rowsAtOnce;
        if (from <= extent.first) traces.remove(id);
        else traces.cut(id, from);
        return from > extent.first;
      });
      await new Promise<void>((resolve) => timers.after(0, resolve));
      if (!left) break;
    }
  }
  recorder.change(() => row.stream_id, (stream, { fold }) => {
    fold.changes.drops.push({ stream });
  });
}
