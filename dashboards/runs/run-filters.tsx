import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { carriageKeys } from '../shared/carriages-now.js';
import { goTo } from '../shared/current-address.js';
import type { RunFilter } from './run-filter.js';
import { isFiltered } from './run-filter.js';

/** Filters by state, seam and carriage; they are written into the address, from where the list takes them. */
export function RunFilters({ filter, runs }: { readonly filter: RunFilter; readonly runs: readonly Run[] }): JSX.Element {
  const set = (change: Partial<RunFilter>): void => {
    goTo(writeAddress(['runs'], { ...filter, ...change }));
  };
  const seams = [...new Set(runs.flatMap(({ seam }) => (seam === null ? [] : [seam])))].sort();
  const carriages = [...new Set(carriageKeys.value.map((key) => key.slice(key.indexOf('/') + 1)))];
  return (
    <form
      class="filters"
      aria-label="Which runs"
      onSubmit={(event) => {
        event.preventDefault();
        const given = new FormData(event.currentTarget);
        set({ seam: textOf(given, 'seam'), carriage: textOf(given, 'carriage') });
      }}
    >
      <label>
        State
        <select name="state" value={filter.state} onChange={(event) => { set({ state: stateOf(event.currentTarget.value) }); }}>
          <option value="">all</option>
          <option value="welding">welding</option>
          <option value="finished">finished</option>
        </select>
      </label>
      <label>
        Seam
        <input name="seam" type="text" list="seams" maxLength={128} autocomplete="off" value={filter.seam} onChange={(event) => { set({ seam: event.currentTarget.value.trim() }); }} />
      </label>
      <label>
        Carriage
        <input name="carriage" type="text" list="carriages" maxLength={64} pattern="[A-Za-z0-9_\-]+" title="letters, digits, _ and -" autocomplete="off" value={filter.carriage} onChange={(event) => { if (event.currentTarget.reportValidity()) set({ carriage: event.currentTarget.value.trim() }); }} />
      </label>
      <button type="submit">Show</button>
      {isFiltered(filter) && <a href="#/runs">Show all runs</a>}
      <datalist id="seams">
        {seams.map((seam) => <option key={seam} value={seam} />)}
      </datalist>
      <datalist id="carriages">
        {carriages.map((name) => <option key={name} value={name} />)}
      </datalist>
    </form>
  );
}

function textOf(form: FormData, name: string): string {
  const value = form.get(name);
  return typeof value === 'string' ? value.trim() : '';
}

function stateOf(value: string): RunFilter['state'] {
  return value === 'welding' || value === 'finished' ? value : '';
}
