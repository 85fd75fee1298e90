import type { JSX } from 'preact';
import { Mark } from '../shared/mark.js';
import { entryQuantities } from '../shared/preparation-sentence.js';
import type { NumberEntry } from '../shared/preparation-sentence.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { stepped } from './entry-steps.js';
import { preparationPageWords } from './preparation-page-words.js';

/** A number between a − and a +: one press enters what is shown, the others enter the next one. */
export function Stepper({ entry, name, value, start, onEnter }: {
  readonly entry: NumberEntry;
  readonly name: string;
  readonly value: number | null;
  readonly start: number;
  readonly onEnter: (value: number) => void;
}): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const at = value ?? start;
  const step = (up: boolean): void => {
    onEnter(stepped(entry, at, up));
  };
  return (
    <div class="entry-presses" role="group" aria-label={name}>
      <button type="button" class="entry-press entry-step" aria-label={say.less(name)} onClick={() => { step(false); }}>
        −
      </button>
      <button
        type="button"
        class="entry-press"
        aria-pressed={value !== null}
        onClick={() => {
          if (value === null) onEnter(at);
        }}
      >
        <Mark name={value === null ? 'empty' : 'full'} />
        <span aria-live="polite">{shown(entryQuantities[entry], at)}</span>
        <small>{value === null ? say.pressToEnter : say.entered}</small>
      </button>
      <button type="button" class="entry-press entry-step" aria-label={say.more(name)} onClick={() => { step(true); }}>
        +
      </button>
    </div>
  );
}
