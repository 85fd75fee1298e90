import type { Timers } from '../clock.js';
import type { ImportRow } from '../store/import-statements.js';
import type { Recorder } from './recorder-options.js';

/** Rows of a run removed in one commit, as a span of 100 ms rows. */
const rowsAtOnce = 20_000;

/** Removes a log whose import did not finish, from the end, a span of rows at a time so that messages are handled in between. */
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
  recorder.change(() => row.stream_id, (stream, { fold }) => { fold.changes.drops.push({ stream }); });
}
