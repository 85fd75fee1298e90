import type { JSX } from 'preact';
import type { CarriageState } from './carriage-state.js';
import { noValue } from './units.js';
import { sharedWords } from './shared-words.js';
import { formatAge } from './times.js';

/** A value as text. A value that is too old is struck through, and read out as old. Its unit is shown beside it. */
export function Reading({ text, stale }: { readonly text: string; readonly stale: boolean }): JSX.Element {
  const say = sharedWords();
  if (text === noValue) {
    return <span class="none"><span aria-hidden="true">{noValue}</span><span class="unseen">{say.notKnown}</span></span>;
  }
  if (!stale) return <span>{text}</span>;
  return <s><span class="unseen">{say.oldReading}</span>{text}</s>;
}

/** The age of a value that is struck through. */
export function staleWords({ stale, age }: CarriageState): JSX.Element | null {
  if (!stale) return null;
  return <span class="age">{sharedWords().old(age === null ? null : formatAge(age))}</span>;
}
