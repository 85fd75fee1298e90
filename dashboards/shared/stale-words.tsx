import type { JSX } from 'preact';
import type { CarriageState } from './carriage-state.js';
import { sharedWords } from './shared-words.js';
import { formatAge } from './times.js';
import { wordsOf } from './words.js';

/** The age of a value that is struck through. */
export function staleWords({ stale, age }: CarriageState): JSX.Element | null {
  if (!stale) return null;
  return <span class="age">{wordsOf(sharedWords).old(age === null ? null : formatAge(age))}</span>;
}
