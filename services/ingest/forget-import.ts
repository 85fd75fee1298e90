import { setImmediate as yieldToOthers } from 'node:timers/promises';
import type { ImportRow, ImportStatements } from './import-statements.js';
import type { Recorder } from './recorder-options.js';

/** Rows of a run that are removed in one commit, as a stretch of 100 ms rows. */
const rowsAtOnce = 20_000;

/** Removes a log that did not come to its end, its rows a stretch at a time from the end on, so that messages are taken in between. */
export async function forgetImport(row: ImportRow, recorder: Recorder, imports: ImportStatements): Promise<void> {
  for (const id of JSON.parse(row.runs) as string[]) {
    for (;;) {
      const left = recorder.change(({ fold: { traces } }) => {
        const extent = traces.extent(id);
        if (extent === null) return false;
        const from = extent.last + 1 - rowsAtOnce;
        if (from <= extent.first) traces.remove(id);
        else traces.cut(id, from);
        return from > extent.first;
      });
      await yieldToOthers();
      if (!left) break;
    }
  }
  recorder.change(() => {
    for (const statement of imports.forget) statement.run(row.stream_id);
  });
}
