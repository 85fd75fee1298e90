import type { JSX } from 'preact';
import { sharedWords } from './shared-words.js';

/** Marks what is invented. */
export function Simulated(): JSX.Element {
  return <span class="simulated">{sharedWords().simulated}</span>;
}
