import type { JSX } from 'preact';
import { readAddress, writeAddress } from '../shared/address.js';
import { alarmStateWord, priorityWord } from '../shared/alarm-sentence.js';
import { carriageKeys } from '../shared/carriages-now.js';
import { goTo } from '../shared/current-address.js';
import { handleSubmit, SelectField, type SelectChoice } from '../shared/form-parts.js';
import { isFiltered, priorities, readFilter, spanNames, states, type AlarmFilter } from './alarm-filter.js';
import { alarmsWords } from './alarms-words.js';

/** State, carriage and order. They are written into the address, from which the list reads them. */
export function AlarmFilters({ filter }: { readonly filter: AlarmFilter }): JSX.Element {
  const say = alarmsWords();
  const all: SelectChoice = ['', say.all];
  const set = (change: Readonly<Partial<Record<keyof AlarmFilter, string>>>): void => {
    // A link that was pressed just before has changed the address, but not yet what is drawn.
    goTo(writeAddress(['alarms'], { ...readFilter(readAddress(window.location.hash).query), ...change }));
  };
  const chosen = filter.carriage === '' ? '' : `${filter.site}/${filter.carriage}`;
  const keys = carriageKeys.value.includes(chosen) || chosen === '' ? carriageKeys.value : [...carriageKeys.value, chosen];
  return (
    <form class="filters" aria-label={say.which} onSubmit={handleSubmit(() => undefined)}>
      <SelectField
        label={say.state}
        value={filter.state}
        choices={[all, ['active', say.allActive], ...states.map((state) => [state, alarmStateWord(state)] as const)]}
        onChoose={(state) => { set({ state }); }}
      />
      <SelectField
        label={say.carriageLabel}
        value={chosen}
        choices={[all, ...keys.map((key) => [key, key.replace(/^\//, '')] as const)]}
        onChoose={(key) => {
          const [site = '', carriage = ''] = key.split('/');
          set({ site, carriage });
        }}
      />
      <SelectField
        label={say.priorityLabel}
        value={filter.priority}
        choices={[all, ...priorities.map((priority) => [priority, priorityWord(priority)] as const)]}
        onChoose={(priority) => { set({ priority }); }}
      />
      <SelectField
        label={say.raised}
        value={filter.within}
        choices={[['', say.anyTime], ...spanNames.map((span) => [span, say[span]] as const)]}
        onChoose={(within) => { set({ within }); }}
      />
      <label>
        {say.exactSeam}
        <input type="text" autocomplete="off" value={filter.seam} onChange={(event) => { set({ seam: event.currentTarget.value.trim() }); }} />
      </label>
      <SelectField label={say.order} value={filter.order} choices={[['', say.newestFirst], ['standing', say.standingFirst]]} onChoose={(order) => { set({ order }); }} />
      {isFiltered(filter) && <a href={writeAddress(['alarms'], { order: filter.order })}>{say.showAll}</a>}
    </form>
  );
}
