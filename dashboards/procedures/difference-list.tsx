import type { JSX } from 'preact';
import { procedureWords } from './procedure-words.js';

/** The differences, one line each, or a sentence that there are none. */
export function DifferenceList({ sentences, before }: { readonly sentences: readonly string[]; readonly before: number }): JSX.Element {
  if (sentences.length === 0) return <p>{procedureWords().changesNothing(before)}</p>;
  return <ul class="differences">{sentences.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul>;
}
