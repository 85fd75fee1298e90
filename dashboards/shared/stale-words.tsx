import type { JSX } from 'preact';
import { formatAge } from './times.js';
import type { CarriageState } from './carriage-state.js';

/** The age of a value that is struck through. */
export function staleWords({ stale, age }: CarriageState): JSX.Element | null {
  if (!stale) return null;
  return <span class="age">{age === null ? 'of unknown age' : `${formatAge(age)} old`}</span>;
}
