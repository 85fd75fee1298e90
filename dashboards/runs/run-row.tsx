import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { notJudgedText } from '../run/not-judged-text.js';
import { runStateNow } from '../run/run-state.js';
import { runRemarks } from '../run/run-title.js';
import { writeAddress } from '../shared/address.js';
import { formatNumber } from '../shared/format.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { staleWords } from '../shared/stale-words.js';
import { formatDateTime } from '../shared/times.js';
import { digitsOf, labelled } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { DataCell, HeatInputCell } from './run-cells.js';
import { runsWords } from './runs-words.js';

/** A run in the list: what it is, and what a reader looks for first. */
export function RunRow({ run }: { readonly run: Run }): JSX.Element {
  const say = wordsOf(runsWords);
  const silence = runSilence(run);
  const stale = silence !== null;
  const state = runStateNow(run);
  const why = notJudgedText(run);
  return (
    <tr class={run.excursions > 0 ? 'with-excursions' : undefined}>
      <td class="when" data-label={say.state}>
        <Mark name={silence?.mark ?? state.mark} /> {state.word} {silence !== null && staleWords(silence)}
      </td>
      <th scope="row"><a href={writeAddress(['run', run.id])}>{run.seam ?? say.notAssigned}</a></th>
      <td data-label={say.runLabel()}>
        {run.run ?? <Reading text="–" stale={false} />} {run.attempt > 1 && <span class="unit">{say.attempt(run.attempt)}</span>}
      </td>
      <td data-label={say.carriageLabel}><span class="place">{run.carriage} <span class="unit">{run.site}</span></span></td>
      <td class="when" data-label={say.begun}>{formatDateTime(run.startedAt)}</td>
      <td class="number" data-label={labelled(say.length, 'fineLength')}>
        <Reading text={digitsOf('fineLength', run.length)} stale={stale} />
      </td>
      <HeatInputCell run={run} label={say.heatInput} value={run.heatInput} stale={stale} />
      <td class={run.excursions > 0 ? 'number out' : 'number'} data-label={say.excursions}>
        {run.excursions > 0 && <Mark name="warning" />} {why === null || run.excursions > 0 ? formatNumber(run.excursions, 0) : <span class="unit" title={why}>{say.notJudgedBecause(why)}</span>}
      </td>
      <DataCell run={run} />
      <td data-label={say.remarks}>
        {run.simulated && <Simulated />} {say.joined([...(run.origin.kind === 'log' ? [say.imported] : []), ...runRemarks(run)])}
      </td>
    </tr>
  );
}
