import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { formatNumber } from '../shared/format.js';
import { Mark } from '../shared/mark.js';
import { quantities } from '../shared/quantities.js';
import { Reading } from '../shared/reading.js';
import { Simulated } from '../shared/simulated.js';
import { formatDateTime, formatZone } from '../shared/times.js';
import { runRemarks, runTitle } from '../run/run-words.js';

const figures = [
  { label: 'Arc time', of: quantities.arcTime, value: (run: Run) => run.arcTime },
  { label: 'Length', of: quantities.length, value: (run: Run) => run.length },
  { label: 'Travel speed', of: quantities.travelSpeed, value: (run: Run) => run.travelSpeed?.mean ?? null },
  { label: 'Heat input', of: quantities.heatInput, value: (run: Run) => run.heatInput },
] as const;

export function RunTable({ runs }: { readonly runs: readonly Run[] }): JSX.Element {
  const zone = formatZone(runs[0]?.startedAt ?? 0);
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Runs">
      <table class="runs">
        <thead>
          <tr>
            <th scope="col">
              Begun <span class="unit">{zone}</span>
            </th>
            <th scope="col">Seam and run</th>
            <th scope="col">Carriage</th>
            <th scope="col">State</th>
            {figures.map(({ label, of }) => (
              <th key={label} scope="col" class="number">
                {label} <span class="unit">{of.unit}</span>
              </th>
            ))}
            <th scope="col">Remarks</th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <tr key={run.id}>
              <td class="when">{formatDateTime(run.startedAt)}</td>
              <th scope="row">
                <a href={writeAddress(['run', run.id])}>{runTitle(run)}</a>
              </th>
              <td>
                {run.carriage} <span class="unit">{run.site}</span>
              </td>
              <td class="when">
                <Mark name={run.state === 'welding' ? 'full' : 'square'} /> {run.state}
              </td>
              {figures.map(({ label, of, value }) => (
                <td key={label} class="number">
                  <Reading text={formatNumber(value(run), of.decimals)} stale={false} />
                </td>
              ))}
              <td>
                {run.simulated && <Simulated />} {runRemarks(run).join(', ')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
