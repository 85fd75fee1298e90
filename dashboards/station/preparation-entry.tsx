import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { missingOf } from '../../shared/weld/preparation.js';
import type { AskedEntry } from '../../shared/weld/preparation.js';
import { Mark } from '../shared/mark.js';
import { entryName, isNumberEntry, limitWords } from '../shared/preparation-sentence.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { Choices } from './entry-choices.js';
import { Stepper } from './entry-stepper.js';
import { preparationPageWords } from './preparation-page-words.js';
import { diametersFor, heldBy, lotsFor, startOf } from './preparation-start.js';

/** A second press that soon is a bounce of a gloved hand, and takes nothing back; ms. */
const bounce = 500;

export interface EntryProps {
  readonly asked: AskedEntry;
  /** How many arcs the list speaks of. */
  readonly arcs: number;
  readonly hint: string | null;
  readonly declaredPreheat: number | undefined;
  readonly earlier: readonly AssignmentAnswer[];
  readonly onEnter: (value: boolean | number | string | null) => void;
}

/** One thing that is asked for, with its state in a word and a shape, and what enters it. */
export function Entry({ asked, arcs, hint, declaredPreheat, earlier, onEnter }: EntryProps): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const name = entryName(asked, arcs);
  const wrong = missingOf(asked)[0]?.reason ?? null;
  const { entry } = asked;
  const limits = isNumberEntry(entry) && entry !== 'wireDiameter' ? asked.limits.map((limit) => limitWords(entry, limit)).filter((text) => text !== null) : [];
  return (
    <li class={`entry ${wrong === 'outside' ? 'entry-outside' : ''}`}>
      <p class="entry-name">
        <strong>{name}</strong>{' '}
        <span class="entry-state">
          <Mark name={wrong === null ? 'full' : wrong === 'outside' ? 'alert' : 'empty'} /> {wrong === null ? say.entered : say[wrong]}
        </span>
      </p>
      <Control asked={asked} name={name} declaredPreheat={declaredPreheat} earlier={earlier} onEnter={onEnter} />
      {[...limits, ...(hint === null ? [] : [hint])].map((text) => (
        <p key={text} class="entry-hint">
          {text}
        </p>
      ))}
    </li>
  );
}

function Control({ asked, name, declaredPreheat, earlier, onEnter }: Omit<EntryProps, 'arcs' | 'hint'> & { readonly name: string }): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const { entry, value } = asked;
  const last = earlier.map((own) => heldBy(own, asked)).find((held) => held !== null) ?? null;
  if (entry === 'wireDiameter') {
    const named = asked.limits[0];
    const isNamed = (own: number): boolean => own >= (named?.min ?? own) && own <= (named?.max ?? own);
    const choices = diametersFor(asked).map((own) => ({ value: own, text: shown('wireDiameter', own), more: isNamed(own) ? say.asProcedure : null }));
    return <Choices name={name} choices={choices} entered={value} onEnter={onEnter} />;
  }
  if (entry === 'fluxLot' || entry === 'wireLot') {
    const choices = lotsFor(asked, earlier).map((own) => ({ value: own, text: own, more: own === last ? say.asBefore : null }));
    return choices.length === 0 ? <p class="entry-none">{say.noLots}</p> : <Choices name={name} choices={choices} entered={value} onEnter={onEnter} />;
  }
  if (isNumberEntry(entry)) return <Stepper entry={entry} name={name} value={typeof value === 'number' ? value : null} start={startOf(asked, last, declaredPreheat)} onEnter={onEnter} />;
  return <YesOrNo name={name} done={value === true} onEnter={onEnter} />;
}

function YesOrNo({ name, done, onEnter }: { readonly name: string; readonly done: boolean; readonly onEnter: (value: boolean | null) => void }): JSX.Element {
  const say = wordsOf(preparationPageWords);
  const pressedAt = useRef(0);
  const word = done ? say.pressToTakeBack : say.pressWhenDone;
  return (
    <button
      type="button"
      class="entry-press"
      aria-pressed={done}
      aria-label={say.labelled(name, word)}
      onClick={({ timeStamp }) => {
        const again = timeStamp - pressedAt.current < bounce;
        pressedAt.current = timeStamp;
        if (!(again && done)) onEnter(done ? null : true);
      }}
    >
      <Mark name={done ? 'full' : 'empty'} />
      <span>{word}</span>
    </button>
  );
}
