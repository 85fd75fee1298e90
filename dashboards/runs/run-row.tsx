import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { runRemarks, whyIncomplete } from '../run/run-title.js';
import { writeAddress } from '../shared/address.js';
import { formatNumber } from '../shared/format.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { staleWords } from '../shared/stale-words.js';
import { formatDateTime } from '../shared/times.js';
import { digitsOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { runsWords } from './runs-words.js';

/** A run in the list: what it is, and what a reader looks for first. */
export function RunRow({ run }: { readonly run: Run }): JSX.Element {
  const say = wordsOf(runsWords);
  const silence = runSilence(run);
  const stale = silence !== null;
  const judged = run.procedure !== null || run.excursions > 0;
  return (
    <tr>
      <td class="when">
        <Mark name={silence?.mark ?? (run.state === 'welding' ? 'full' : 'square')} /> {say[run.state]} {silence !== null && staleWords(silence)}
      </td>
      <th scope="row">
        <a href={writeAddress(['run', run.id])}>{run.seam ?? say.notAssigned}</a>
      </th>
      <td>
        {run.run ?? <Reading text="–" stale={false} />} {run.attempt > 1 && <span class="unit">{say.attempt(run.attempt)}</span>}
      </td>
      <td>
        {run.carriage} <span class="unit">{run.site}</span>
      </td>
      <td class="when">{formatDateTime(run.startedAt)}</td>
      <td class="number">
        <Reading text={digitsOf('fineLength', run.length)} stale={stale} />
      </td>
      <td class="number">
        <Reading text={digitsOf('heatInput', run.heatInput)} stale={stale} />
      </td>
      <td class={run.excursions > 0 ? 'number out' : 'number'}>
        {run.excursions > 0 && <Mark name="warning" />} {judged ? formatNumber(run.excursions, 0) : <span class="unit">{say.notJudged}</span>}
      </td>
      <td class={run.complete ? undefined : 'out'}>
        {run.complete ? say.complete : <><Mark name="warning" /> {say.incomplete(say.joined(whyIncomplete(run)))}</>}
      </td>
      <td>
        {run.simulated && <Simulated />} {say.joined(runRemarks(run))}
      </td>
    </tr>
  );
}
