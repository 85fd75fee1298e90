import type { JSX } from 'preact';
import { FactList } from '../shared/fact-list.js';

export interface Fact {
  readonly name: string;
  readonly text: string;
  /** The same in the stored units, if others are shown. */
  readonly stored?: string | null;
}

/** Names with their values. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }): JSX.Element {
  return <FactList look="sheet-facts" facts={facts.map(({ name, text, stored = null }) => [name, <>{text} {stored !== null && <span class="unit">({stored})</span>}</>])} />;
}
