import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { procedureWords } from './procedure-words.js';

/** What differs, one line each, or that nothing does. */
export function DifferenceList({ sentences, before }: { readonly sentences: readonly string[]; readonly before: number }): JSX.Element {
  if (sentences.length === 0) return <p>{wordsOf(procedureWords).changesNothing(before)}</p>;
  return <ul class="differences">{sentences.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul>;
}
