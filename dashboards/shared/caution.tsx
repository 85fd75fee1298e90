import type { JSX } from 'preact';
import { sharedWords } from './shared-words.js';
import { wordsOf } from './words.js';

/** Stands at the foot of every page. */
export function Caution(): JSX.Element {
  return <footer class="caution">{wordsOf(sharedWords).caution}</footer>;
}
