import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { alarmStateWord, priorityWord } from '../shared/alarm-sentence.js';
import { carriageKeys } from '../shared/carriages-now.js';
import { goTo } from '../shared/current-address.js';
import { wordsOf } from '../shared/words.js';
import type { AlarmFilter } from './alarm-filter.js';
import { isFiltered, priorities, spanNames, states } from './alarm-filter.js';
import { alarmsWords } from './alarms-words.js';

/** State, carriage and order; they are written into the address, from where the list takes them. */
export function AlarmFilters({ filter }: { readonly filter: AlarmFilter }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const set = (change: Partial<AlarmFilter>): void => {
    goTo(writeAddress(['alarms'], { ...filter, ...change }));
  };
  const chosen = filter.carriage === '' ? '' : `${filter.site}/${filter.carriage}`;
  const keys = carriageKeys.value.includes(chosen) || chosen === '' ? carriageKeys.value : [...carriageKeys.value, chosen];
  return (
    <form class="filters" aria-label={say.which} onSubmit={(event) => { event.preventDefault(); }}>
      <label>
        {say.state}
        <select value={filter.state} onChange={(event) => { set({ state: [...states, 'active' as const].find((own) => own === event.currentTarget.value) ?? '' }); }}>
          <option value="">{say.all}</option>
          <option value="active">{say.allActive}</option>
          {states.map((state) => <option key={state} value={state}>{alarmStateWord(state)}</option>)}
        </select>
      </label>
      <label>
        {say.carriageLabel}
        <select
          value={chosen}
          onChange={(event) => {
            const [site = '', carriage = ''] = event.currentTarget.value.split('/');
            set({ site, carriage });
          }}
        >
          <option value="">{say.all}</option>
          {keys.map((key) => <option key={key} value={key}>{key.replace(/^\//, '')}</option>)}
        </select>
      </label>
      <label>
        {say.priorityLabel}
        <select value={filter.priority} onChange={(event) => { set({ priority: priorities.find((own) => own === event.currentTarget.value) ?? '' }); }}>
          <option value="">{say.all}</option>
          {priorities.map((own) => <option key={own} value={own}>{priorityWord(own)}</option>)}
        </select>
      </label>
      <label>
        {say.raised}
        <select value={filter.within} onChange={(event) => { set({ within: spanNames.find((own) => own === event.currentTarget.value) ?? '' }); }}>
          <option value="">{say.anyTime}</option>
          {spanNames.map((own) => <option key={own} value={own}>{say[own]}</option>)}
        </select>
      </label>
      <label>
        {say.exactSeam}
        <input type="text" autocomplete="off" value={filter.seam} onChange={(event) => { set({ seam: event.currentTarget.value.trim() }); }} />
      </label>
      <label>
        {say.order}
        <select value={filter.order} onChange={(event) => { set({ order: event.currentTarget.value === 'standing' ? 'standing' : '' }); }}>
          <option value="">{say.newestFirst}</option>
          <option value="standing">{say.standingFirst}</option>
        </select>
      </label>
      {isFiltered(filter) && <a href={writeAddress(['alarms'], { order: filter.order })}>{say.showAll}</a>}
    </form>
  );
}
