import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { notJudgedText, runRemarks, runStateNow } from '../run/run-text.js';
import { writeAddress } from '../shared/address.js';
import { goTo } from '../shared/current-address.js';
import { Mark } from '../shared/mark.js';
import { Reading, staleWords } from '../shared/reading.js';
import { runSilence } from '../shared/run-silence.js';
import { Simulated } from '../shared/simulated.js';
import { formatDateTime, formatZone } from '../shared/times.js';
import { digitsOf, formatNumber, labelled, unitOf } from '../shared/units.js';
import { DataCell, HeatInputCell } from './run-cells.js';
import type { Order, RunFilter } from './run-filter.js';
import { runsWords } from './runs-words.js';

interface RunTableProps { readonly runs: readonly Run[]; readonly filter: RunFilter }

export function RunTable({ runs, filter }: RunTableProps): JSX.Element {
  const say = runsWords();
  const sorted = (order: Order): { readonly order: Order; readonly filter: RunFilter } => ({ order, filter });
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={say.runsLabel()}>
      <table class="runs">
        <thead>
          <tr>
            <th scope="col">{say.state}</th>
            <SortHead {...sorted('seam')}>{say.seam}</SortHead>
            <th scope="col">{say.runLabel()}</th>
            <th scope="col">{say.carriageLabel}</th>
            <SortHead {...sorted('startedAt')} unit={formatZone(runs[0]?.startedAt ?? 0)}>{say.begun}</SortHead>
            <SortHead {...sorted('length')} number unit={unitOf('fineLength')}>{say.length}</SortHead>
            <th scope="col" class="number">{say.heatInput} <span class="unit">{unitOf('heatInput')}</span></th>
            <SortHead {...sorted('excursions')} number>{say.excursions}</SortHead>
            <th scope="col">{say.data}</th>
            <th scope="col">{say.remarks}</th>
          </tr>
        </thead>
        <tbody>{runs.map((run) => <RunRow key={run.id} run={run} />)}</tbody>
      </table>
    </div>
  );
}

interface SortHeadProps {
  readonly order: Order;
  readonly filter: RunFilter;
  readonly number?: boolean;
  readonly unit?: string;
  readonly children: string;
}

/** A column that the list can be sorted by; a second press turns it round. */
function SortHead({ order, filter, number = false, unit, children }: SortHeadProps): JSX.Element {
  const usual = order === 'seam' ? 'asc' : 'desc';
  const own = filter.order === '' ? 'startedAt' : filter.order;
  const direction = own === order ? (filter.direction === '' ? usual : filter.direction) : null;
  const turned = direction === null ? usual : direction === 'asc' ? 'desc' : 'asc';
  return (
    <th scope="col" class={number ? 'number' : undefined} aria-sort={direction === null ? undefined : direction === 'asc' ? 'ascending' : 'descending'}>
      <button type="button" class="sort-head" onClick={() => { goTo(writeAddress(['runs'], { ...filter, order, direction: turned })); }}>
        {children} <span aria-hidden="true">{direction === null ? '↕' : direction === 'asc' ? '▲' : '▼'}</span>
      </button>
      {unit !== undefined && <span class="unit">{unit}</span>}
    </th>
  );
}

/** A run in the list: what it is, and what a reader looks for first. */
function RunRow({ run }: { readonly run: Run }): JSX.Element {
  const say = runsWords();
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
