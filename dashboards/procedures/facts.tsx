import type { JSX } from 'preact';

export interface Fact {
  readonly name: string;
  readonly text: string;
  /** The same in the units that are stored, where others are shown. */
  readonly stored?: string | null;
}

/** Names with their values. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }): JSX.Element {
  return (
    <dl class="sheet-facts">
      {facts.map(({ name, text, stored = null }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{text} {stored !== null && <span class="unit">({stored})</span>}</dd>
        </div>
      ))}
    </dl>
  );
}
