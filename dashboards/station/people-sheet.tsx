import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { handleSubmit } from '../shared/form-parts.js';
import { now } from '../shared/now.js';
import { choosePerson, knownPeople, personHere } from './people.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

/** Who is here: a name to press, or a new one. Everything that is entered, acknowledged or shelved from then on is signed with it. */
export function PeopleSheet({ carriage, close }: { readonly carriage: Carriage; readonly close: () => void }): JSX.Element {
  const say = stationWords();
  const typed = useSignal('');
  const here = personHere(now.value);
  const names = [...new Set([...knownPeople(), ...(carriage.assignment?.operator === undefined ? [] : [carriage.assignment.operator])])];
  const choose = (name: string | null): void => {
    choosePerson(name, Date.now());
    close();
  };
  return (
    <Sheet title={say.whoIsHere} close={close}>
      <p class="sheet-aside">{say.whoMore(`station ${carriage.carriage}`)}</p>
      <div class="pushes">
        {names.map((name) => (
          <button key={name} type="button" class="push" aria-pressed={name === here} onClick={() => { choose(name); }}>{name}</button>
        ))}
        <button type="button" class="push" aria-pressed={here === null} onClick={() => { choose(null); }}>
          {say.nobody(`station ${carriage.carriage}`)}
        </button>
      </div>
      <form class="entry-line" onSubmit={handleSubmit(() => { if (typed.value.trim() !== '') choose(typed.value); })}>
        <label>
          {say.newName}
          <input type="text" autocomplete="off" maxLength={60} value={typed.value} onInput={(event) => { typed.value = event.currentTarget.value; }} />
        </label>
        <button type="submit" class="push">{say.takeName}</button>
      </form>
    </Sheet>
  );
}
