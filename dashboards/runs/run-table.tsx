import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatZone } from '../shared/times.js';
import { unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { RunRow } from './run-row.js';
import { runsWords } from './runs-words.js';

export function RunTable({ runs }: { readonly runs: readonly Run[] }): JSX.Element {
  const say = wordsOf(runsWords);
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={say.runs()}>
      <table class="runs">
        <thead>
          <tr>
            <th scope="col">{say.state}</th>
            <th scope="col">{say.seamColumn}</th>
            <th scope="col">{say.run()}</th>
            <th scope="col">{say.carriage}</th>
            <th scope="col">
              {say.begun} <span class="unit">{formatZone(runs[0]?.startedAt ?? 0)}</span>
            </th>
            <th scope="col" class="number">
              {say.length} <span class="unit">{unitOf('fineLength')}</span>
            </th>
            <th scope="col" class="number">
              {say.heatInput} <span class="unit">{unitOf('heatInput')}</span>
            </th>
            <th scope="col" class="number">{say.excursions}</th>
            <th scope="col">{say.data}</th>
            <th scope="col">{say.remarks}</th>
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
