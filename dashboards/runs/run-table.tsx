import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatZone } from '../shared/times.js';
import { listedFigures } from './listed-figures.js';
import { RunRow } from './run-row.js';

export function RunTable({ runs }: { readonly runs: readonly Run[] }): JSX.Element {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Runs">
      <table class="runs">
        <thead>
          <tr>
            <th scope="col">
              Begun <span class="unit">{formatZone(runs[0]?.startedAt ?? 0)}</span>
            </th>
            <th scope="col">Seam and run</th>
            <th scope="col">Carriage</th>
            <th scope="col">State</th>
            {listedFigures.map(({ label, of }) => (
              <th key={label} scope="col" class="number">
                {label} <span class="unit">{of.unit}</span>
              </th>
            ))}
            <th scope="col">Remarks</th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <RunRow key={run.id} run={run} />
          ))}
        </tbody>
      </table>
    </div>
  );
}
