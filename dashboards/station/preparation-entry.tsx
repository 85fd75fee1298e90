import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { AskedEntry } from '../../shared/weld/preparation/preparation.js';
import { handleSubmit } from '../shared/form-parts.js';
import { Mark } from '../shared/mark.js';
import { entryName, isNumberEntry, limitWords } from '../shared/preparation-sentence.js';
import { shown } from '../shared/units.js';
import { entryState, type TemperatureCheckAnswer } from './entry-state.js';
import { Stepper } from './entry-stepper.js';
import { Keypad } from './keypad.js';
import { preparationPageWords } from './preparation-page-words.js';
import { diametersFor, entryIn, lotsFor, startOf } from './preparation-start.js';

export type EntryValue = boolean | number | string | null;

export interface EntryProps {
  readonly asked: AskedEntry;
  readonly check: TemperatureCheckAnswer | undefined;
  readonly assignment: AssignmentAnswer;
  /** How many arcs the list speaks of. */
  readonly arcs: number;
  readonly hint: string | null;
  readonly declaredPreheat: number | undefined;
  readonly earlier: readonly AssignmentAnswer[];
  readonly onEnter: (value: EntryValue) => void;
}

/** One entry on a card of its own: its state in a word and a shape, the controls that enter it, and a button that clears it. */
export function Entry({ asked, check, assignment, arcs, hint, declaredPreheat, earlier, onEnter }: EntryProps): JSX.Element {
  const say = preparationPageWords();
  const name = entryName(asked, arcs);
  const state = entryState(asked, assignment, check);
  const { entry } = asked;
  /** The value before it was cleared. */
  const before = useSignal<EntryValue>(null);
  const isTakenBack = asked.value === null && before.value !== null;
  const limits = isNumberEntry(entry) && entry !== 'wireDiameter' ? asked.limits.map((limit) => limitWords(entry, limit)).filter((text) => text !== null) : [];
  return (
    <div class={state.is === 'outside' ? 'entry entry-outside' : 'entry'}>
      <p class="entry-state">
        <Mark name={state.mark} /> {state.words}
        {isTakenBack && say.takenBack}
      </p>
      <div class="entry-row">
        <Control asked={asked} name={name} declaredPreheat={declaredPreheat} earlier={earlier} onEnter={onEnter} />
        <button
          type="button"
          class="entry-press entry-clear"
          disabled={asked.value === null && !isTakenBack}
          onClick={() => {
            const next = isTakenBack ? before.value : null;
            before.value = asked.value;
            onEnter(next);
          }}
        >
          {isTakenBack ? say.undo : say.clear}
        </button>
      </div>
      {[...limits, ...(hint === null ? [] : [hint])].map((text) => <p key={text} class="entry-hint">{text}</p>)}
    </div>
  );
}

function Control({ asked, name, declaredPreheat, earlier, onEnter }: Pick<EntryProps, 'asked' | 'declaredPreheat' | 'earlier' | 'onEnter'> & { readonly name: string }): JSX.Element {
  const say = preparationPageWords();
  const { entry, value } = asked;
  const last = earlier.map((own) => entryIn(own, asked)).find((held) => held !== null) ?? null;
  if (entry === 'wireDiameter') {
    const named = asked.limits[0];
    const isNamed = (own: number): boolean => own >= (named?.min ?? own) && own <= (named?.max ?? own);
    const choices = diametersFor(asked).map((own) => ({ value: own, text: shown('wireDiameter', own), more: isNamed(own) ? say.asProcedure : null }));
    return <Choices name={name} choices={choices} entered={value} onEnter={onEnter} />;
  }
  if (entry === 'fluxLot' || entry === 'wireLot') {
    const choices = lotsFor(asked, earlier).map((own) => ({ value: own, text: own, more: own === value ? say.pressToConfirm : own === last ? say.asBefore : null }));
    return <LotEntry name={name} choices={choices} entered={typeof value === 'string' ? value : null} onEnter={onEnter} />;
  }
  if (isNumberEntry(entry)) return <Stepper entry={entry} name={name} value={typeof value === 'number' ? value : null} start={startOf(asked, last, declaredPreheat)} onEnter={onEnter} />;
  return <YesOrNo name={name} value={value} onEnter={onEnter} />;
}

/** A second press within this time is a gloved hand bouncing, and changes nothing; ms. */
const bounce = 500;

/** "Done" and "not done", one press each; pressing the current answer changes nothing. */
function YesOrNo({ name, value, onEnter }: { readonly name: string; readonly value: EntryValue; readonly onEnter: (value: boolean) => void }): JSX.Element {
  const say = preparationPageWords();
  const pressedAt = useRef(-bounce);
  const press = (own: boolean, timeStamp: number): void => {
    const again = timeStamp - pressedAt.current < bounce;
    pressedAt.current = timeStamp;
    if (!again) onEnter(own);
  };
  return (
    <div class="entry-presses" role="group" aria-label={name}>
      {([[true, say.done], [false, say.markNotDone]] as const).map(([own, text]) => (
        <button key={text} type="button" class="entry-press" aria-pressed={value === own} onClick={({ timeStamp }) => { press(own, timeStamp); }}>
          <Mark name={value === own ? 'full' : 'empty'} />
          <span>{text}</span>
        </button>
      ))}
    </div>
  );
}

/** A lot from the few that are known, read by a scanner (it types like a keyboard and ends with Enter), or by large keys once the field is touched. */
function LotEntry({ name, choices, entered, onEnter }: { readonly name: string; readonly choices: readonly Choice<string>[]; readonly entered: string | null; readonly onEnter: (lot: string) => void }): JSX.Element {
  const say = preparationPageWords();
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

interface Choice<T> { readonly value: T; readonly text: string; readonly more: string | null }

/** A few values to choose from, each one press. A second press confirms the value: somebody has looked. */
function Choices<T extends string | number>({ name, choices, entered, onEnter }: {
  readonly name: string;
  readonly choices: readonly Choice<T>[];
  readonly entered: boolean | number | string | null;
  readonly onEnter: (value: T) => void;
}): JSX.Element {
  return (
    <div class="entry-presses" role="group" aria-label={name}>
      {choices.map(({ value, text, more }) => (
        <button
          key={value}
          type="button"
          class="entry-press"
          aria-pressed={value === entered}
          onClick={() => { onEnter(value); }}
        >
          <Mark name={value === entered ? 'full' : 'empty'} />
          <span>{text}</span>
          {more !== null && <small>{more}</small>}
        </button>
      ))}
    </div>
  );
}
