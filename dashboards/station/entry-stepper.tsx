import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { Mark } from '../shared/mark.js';
import { entryQuantities, type NumberEntry } from '../shared/preparation-sentence.js';
import { shown } from '../shared/units.js';
import { stepped, stepsOf } from './entry-steps.js';
import { preparationPageWords } from './preparation-page-words.js';

/** When nobody has pressed for this long, the value shown is the one that is meant, ms: only that is stored. */
const rests = 1_200;

/** A number with buttons for small and large steps. One press on the number enters it; a number that was stepped to is stored once the hand rests. */
export function Stepper({ entry, name, value, start, onEnter }: {
  readonly entry: NumberEntry;
  readonly name: string;
  readonly value: number | null;
  readonly start: number;
  readonly onEnter: (value: number) => void;
}): JSX.Element {
  const say = preparationPageWords();
  const pending = useSignal<number | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  const at = pending.value ?? value ?? start;
  const store = (): void => {
    if (timer.current !== null) clearTimeout(timer.current);
    timer.current = null;
    const chosen = pending.peek();
    pending.value = null;
    if (chosen !== null) onEnter(chosen);
  };
  useEffect(() => store, []);
  const step = (up: boolean, large: boolean): void => {
    pending.value = stepped(entry, pending.peek() ?? value ?? start, up, large);
    if (timer.current !== null) clearTimeout(timer.current);
    timer.current = setTimeout(store, rests);
  };
  const [small, large] = stepsOf(entry);
  const button = (up: boolean, isLarge: boolean): JSX.Element => {
    const text = `${up ? '+' : '\u2212'}${isLarge ? large : small}`;
    return (
      <button key={text} type="button" class="entry-press entry-step" aria-label={`${name}: ${text}`} onClick={() => { step(up, isLarge); }}>
        {text}
      </button>
    );
  };
  return (
    <div class="entry-presses" role="group" aria-label={name}>
      {button(false, true)}
      {button(false, false)}
      <button
        type="button"
        class="entry-press entry-value"
        aria-pressed={value !== null && pending.value === null}
        onClick={() => {
          pending.value = at;
          store();
        }}
      >
        <Mark name={value === null || pending.value !== null ? 'empty' : 'full'} />
        <span aria-live="polite">{shown(entryQuantities[entry], at)}</span>
        <small>{pending.value !== null ? say.storing : value === null ? say.pressToEnter : say.pressToConfirm}</small>
      </button>
      {button(true, false)}
      {button(true, true)}
    </div>
  );
}
