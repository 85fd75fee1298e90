import { signal } from '@preact/signals';
import type { JSX } from 'preact';
import type { RunNamesAnswer } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { goTo } from '../shared/current-address.js';
import { periods, shiftPeriods } from '../shared/plant-days.js';
import { handleSubmit, SelectField } from '../shared/form-parts.js';
import { plantShifts } from '../shared/service-facts.js';
import { formatZone } from '../shared/times.js';
import { isBackwards, isFiltered, moreFilters, orders, readFilter, type RunFilter } from './run-filter.js';
import { runsWords } from './runs-words.js';

/** The greatest width at which a list is shown as cards; the style sheet of the list has the same width. */
const narrowQuery = window.matchMedia('(max-width: 48rem)');

/** Whether the screen is narrow, such as that of a telephone. */
const narrow = signal(narrowQuery.matches);

narrowQuery.addEventListener('change', () => { narrow.value = narrowQuery.matches; });

interface RunFiltersProps { readonly filter: RunFilter; readonly names: RunNamesAnswer }

/** Up to this many names are offered as a list to pick from; more are suggested while one types. */
const mostPicked = 300;

/** Search and filters. They are written into the address, from which the list reads them, so that Back undoes each. */
export function RunFilters({ filter, names }: RunFiltersProps): JSX.Element {
  const say = runsWords();
  const applyFilters = (form: HTMLFormElement): void => {
    if (!form.reportValidity()) return;
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === 'string') query.set(name, value);
    goTo(writeAddress(['runs'], { ...readFilter(query) }));
  };
  const active = activeFilters(filter);
  return (
    <form
      class="filters run-search"
      role="search"
      aria-label={say.which()}
      onChange={(event) => { applyFilters(event.currentTarget); }}
      onSubmit={handleSubmit(applyFilters)}
    >
      <label class="wide">{say.search}<input name="search" type="search" maxLength={128} autocomplete="off" value={filter.search} /></label>
      {/* On a narrow screen the filters would push the runs out of sight, so one line says which are set. */}
      {narrow.value ? (
        <details class="folded-filters">
          <summary>{active.length > 0 ? say.filtersSet(say.joined(active)) : say.filters}</summary>
          <div class="filters"><FilterFields filter={filter} names={names} /></div>
        </details>
      ) : (
        <FilterFields filter={filter} names={names} />
      )}
      <input type="hidden" name="direction" value={filter.direction} />
      {isFiltered(filter) && <a href="#/runs">{say.showAll()}</a>}
      {isBackwards(filter) && <p id="backwards" class="wrong" role="alert">{say.backwards(filter.from, filter.to)}</p>}
      {!narrow.value && <p class="aside">{say.zone(formatZone(Date.now()))}</p>}
    </form>
  );
}

/** All filters but the search, and the order. */
function FilterFields({ filter, names }: RunFiltersProps): JSX.Element {
  const say = runsWords();
  const more = moreFilters(filter);
  const offered = periods.filter((period) => period === filter.period || plantShifts.value.length > 0 || !shiftPeriods.includes(period));
  return (
    <>
      <SelectField name="period" label={say.period} value={filter.period} choices={[['', filter.from === '' && filter.to === '' ? say.anyTime : say.ownDays], ...offered.map((period) => [period, say[period]] as const)]} />
      <label>
        {say.from}
        <input name="from" type="date" min="1970-01-01" max="2105-12-31" value={filter.from} disabled={filter.period !== ''} />
      </label>
      <label>
        {say.to}
        <input name="to" type="date" min="1970-01-01" max="2105-12-31" value={filter.to} disabled={filter.period !== ''} aria-invalid={isBackwards(filter) ? 'true' : undefined} aria-describedby={isBackwards(filter) ? 'backwards' : undefined} />
      </label>
      <PickFilter name="seam" label={say.seam} value={filter.seam} names={names.seams} />
      <PickFilter name="carriage" label={say.carriageLabel} value={filter.carriage} names={names.carriages} />
      <SelectField name="state" label={say.state} value={filter.state} choices={[['', say.any], ['welding', say.welding], ['finished', say.finished]]} />
      <YesNo name="excursions" label={say.excursions} value={filter.excursions} yes={say.withExcursions} no={say.withoutExcursions} />
      <details class="more-filters" open={more > 0}>
        <summary>{more > 0 ? say.moreSet(more) : say.more}</summary>
        <div class="filters">
          <PickFilter name="site" label={say.site} value={filter.site} names={names.sites} />
          <label>{say.runNumber()}<input name="run" type="number" min={1} max={9999} step={1} value={filter.run} /></label>
          <PickFilter name="procedure" label={say.procedure} value={filter.procedure} names={names.procedures} />
          <PickFilter name="operator" label={say.operator} value={filter.operator} names={names.operators} />
          <PickFilter name="lot" label={say.lot} value={filter.lot} names={names.lots} />
          <YesNo name="complete" label={say.data} value={filter.complete} yes={say.complete} no={say.incompleteOnly} />
          <YesNo name="judged" label={say.judgedHead} value={filter.judged} yes={say.judged} no={say.notJudged} />
          <YesNo name="assigned" label={say.assigned} value={filter.assigned} yes={say.yes} no={say.no} />
        </div>
      </details>
      <SelectField name="order" label={say.sortBy} look="sort" value={filter.order} choices={[['', say.newestFirst], ...orders.map((order) => [order, say[orderWords[order]]] as const)]} />
      <button type="submit">{say.show}</button>
      {narrow.value && <p class="aside">{say.zone(formatZone(Date.now()))}</p>}
    </>
  );
}

interface YesNoParts {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly yes: string;
  readonly no: string;
}

function YesNo({ yes, no, ...field }: YesNoParts): JSX.Element {
  return <SelectField {...field} choices={[['', runsWords().any], ['true', yes], ['false', no]]} />;
}

interface PickFilterProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly names: readonly string[];
}

/** Names to pick from; if there are too many for a list, they are suggested while one types, and any other name is accepted too. */
function PickFilter({ name, label, value, names }: PickFilterProps): JSX.Element {
  if (names.length <= mostPicked) {
    const offered = value === '' || names.includes(value) ? names : [value, ...names];
    return <SelectField name={name} label={label} value={value} choices={[['', runsWords().any], ...offered.map((own) => [own, own] as const)]} />;
  }
  return (
    <label>
      {label}
      <input name={name} type="text" list={`names-${name}`} maxLength={128} autocomplete="off" value={value} />
      <datalist id={`names-${name}`}>{names.map((own) => <option key={own} value={own} />)}</datalist>
    </label>
  );
}

const orderWords = { startedAt: 'byStart', seam: 'bySeam', length: 'byLength', excursions: 'byExcursions' } as const;

/** The filters that are set and the order, in words: "today, seam DK-0417/L2, excursions: with". The search is seen where it is typed. */
function activeFilters(filter: RunFilter): string[] {
  const say = runsWords();
  const named = (label: string, value: string): string[] => (value === '' ? [] : [say.filterSet(label, value)]);
  const oneOf = (label: string, value: '' | 'true' | 'false', yes: string, no: string): string[] => named(label, value === '' ? '' : value === 'true' ? yes : no);
  return [
    ...(filter.period === '' ? [] : [say[filter.period]]),
    ...named(say.from, filter.from),
    ...named(say.to, filter.to),
    ...named(say.seam, filter.seam),
    ...named(say.carriageLabel, filter.carriage),
    ...(filter.state === '' ? [] : [say[filter.state]]),
    ...oneOf(say.excursions, filter.excursions, say.withExcursions, say.withoutExcursions),
    ...named(say.site, filter.site),
    ...named(say.runNumber(), filter.run),
    ...named(say.procedure, filter.procedure),
    ...named(say.operator, filter.operator),
    ...named(say.lot, filter.lot),
    ...oneOf(say.data, filter.complete, say.complete, say.incompleteOnly),
    ...oneOf(say.judgedHead, filter.judged, say.judged, say.notJudged),
    ...oneOf(say.assigned, filter.assigned, say.yes, say.no),
    ...(filter.order === '' ? [] : named(say.sortBy, say[orderWords[filter.order]])),
  ];
}
