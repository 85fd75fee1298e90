import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { carriageKeys } from '../shared/carriages-now.js';
import { goTo } from '../shared/current-address.js';
import { formatZone } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import type { RunFilter } from './run-filter.js';
import { isFiltered, readFilter } from './run-filter.js';
import { runsWords } from './runs-words.js';

/** Search and filters; they are written into the address, from where the list takes them, so that Back undoes each. */
export function RunFilters({ filter, runs }: { readonly filter: RunFilter; readonly runs: readonly Run[] }): JSX.Element {
  const say = wordsOf(runsWords);
  const take = (form: HTMLFormElement): void => {
    if (!form.reportValidity()) return;
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === 'string') query.set(name, value);
    goTo(writeAddress(['runs'], { ...readFilter(query) }));
  };
  const seams = [...new Set(runs.flatMap(({ seam }) => (seam === null ? [] : [seam])))].sort();
  const sites = [...new Set([...carriageKeys.value.map((key) => key.slice(0, key.indexOf('/'))), ...runs.map(({ site }) => site)])].sort();
  const carriages = [...new Set([...carriageKeys.value.map((key) => key.slice(key.indexOf('/') + 1)), ...runs.map(({ carriage }) => carriage)])].sort();
  return (
    <form
      class="filters run-search"
      role="search"
      aria-label={say.which()}
      onChange={(event) => { take(event.currentTarget); }}
      onSubmit={(event) => {
        event.preventDefault();
        take(event.currentTarget);
      }}
    >
      <label class="wide">
        {say.search}
        <input name="search" type="search" maxLength={128} autocomplete="off" value={filter.search} />
      </label>
      <label>
        {say.state}
        <select name="state" value={filter.state}>
          <option value="">{say.anyState}</option>
          <option value="welding">{say.welding}</option>
          <option value="finished">{say.finished}</option>
        </select>
      </label>
      <label>
        {say.from}
        <input name="from" type="date" min="1970-01-01" max="2105-12-31" value={filter.from} />
      </label>
      <label>
        {say.to}
        <input name="to" type="date" min="1970-01-01" max="2105-12-31" value={filter.to} />
      </label>
      <NameFilter name="site" label={say.site} value={filter.site} names={sites} />
      <NameFilter name="carriage" label={say.carriage} value={filter.carriage} names={carriages} />
      <NameFilter name="seam" label={say.seam} value={filter.seam} names={seams} />
      <label>
        {say.assigned}
        <select name="assigned" value={filter.assigned}>
          <option value="">{say.anyAssigned}</option>
          <option value="true">{say.yes}</option>
          <option value="false">{say.no}</option>
        </select>
      </label>
      <button type="submit">{say.show}</button>
      {isFiltered(filter) && <a href="#/runs">{say.showAll()}</a>}
      <p class="aside">{say.zone(formatZone(Date.now()))}</p>
    </form>
  );
}

interface NameFilterProps {
  readonly name: 'site' | 'carriage' | 'seam';
  readonly label: string;
  readonly value: string;
  /** What is proposed; any other name is taken too. */
  readonly names: readonly string[];
}

function NameFilter({ name, label, value, names }: NameFilterProps): JSX.Element {
  const bound = name === 'seam' ? { maxLength: 128 } : { maxLength: 64, pattern: '[A-Za-z0-9_\\-]+', title: 'A-Z a-z 0-9 _ -' };
  return (
    <label>
      {label}
      <input name={name} type="text" list={`names-${name}`} autocomplete="off" value={value} {...bound} />
      <datalist id={`names-${name}`}>
        {names.map((own) => <option key={own} value={own} />)}
      </datalist>
    </label>
  );
}
