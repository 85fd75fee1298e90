import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { runRemarks, runTitle } from '../run/run-words.js';
import { writeAddress } from '../shared/address.js';
import { formatNumber } from '../shared/format.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { staleWords } from '../shared/stale-words.js';
import { formatDateTime } from '../shared/times.js';
import { listedFigures } from './listed-figures.js';

export function RunRow({ run }: { readonly run: Run }): JSX.Element {
  const silence = runSilence(run);
  return (
    <tr>
      <td class="when">{formatDateTime(run.startedAt)}</td>
      <th scope="row">
        <a href={writeAddress(['run', run.id])}>{runTitle(run)}</a>
      </th>
      <td>
        {run.carriage} <span class="unit">{run.site}</span>
      </td>
      <td class="when">
        <Mark name={silence?.mark ?? (run.state === 'welding' ? 'full' : 'square')} /> {run.state} {silence !== null && staleWords(silence)}
      </td>
      {listedFigures.map(({ label, of, value }) => (
        <td key={label} class="number">
          <Reading text={formatNumber(value(run), of.decimals)} stale={silence !== null} />
        </td>
      ))}
      <td>
        {run.simulated && <Simulated />} {runRemarks(run).join(', ')}
      </td>
    </tr>
  );
}
