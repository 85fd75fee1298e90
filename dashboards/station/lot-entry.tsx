import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { handleSubmit } from '../shared/handle-submit.js';
import { wordsOf } from '../shared/words.js';
import { Choices, type Choice } from './entry-choices.js';
import { Keypad } from './keypad.js';
import { preparationPageWords } from './preparation-page-words.js';

/** A lot from the few that are known, read by a scanner (it types like a keyboard and ends with Enter), or by large keys once the field is touched. */
export function LotEntry({ name, choices, entered, onEnter }: { readonly name: string; readonly choices: readonly Choice<string>[]; readonly entered: string | null; readonly onEnter: (lot: string) => void }): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const typed = useSignal('');
  const hasKeys = useSignal(false);
  if (hasKeys.value) {
    return (
      <Keypad
        kind="lot"
        label={name}
        start={typed.value}
        done={(lot) => {
          hasKeys.value = false;
          typed.value = '';
          if (lot !== '') onEnter(lot);
        }}
      />
    );
  }
  return (
    <>
      <form
        class="entry-line"
        onSubmit={handleSubmit(() => {
          const lot = typed.value.trim();
          if (lot === '') return;
          typed.value = '';
          onEnter(lot);
        })}
      >
        <label>
          {say.scanLot}
          <input type="text" autocomplete="off" maxLength={128} value={typed.value} onClick={() => { hasKeys.value = true; }} onInput={(event) => { typed.value = event.currentTarget.value; }} />
        </label>
        <button type="submit" class="entry-press">{say.save}</button>
      </form>
      {choices.length === 0 ? <p class="entry-hint">{say.noLots}</p> : <Choices name={name} choices={choices} entered={entered} onEnter={onEnter} />}
    </>
  );
}
