import type { ComponentChildren, JSX } from 'preact';

export type Fact = readonly [name: string, value: ComponentChildren];

/** Names with their values. */
export function FactList({ look, facts }: { readonly look: string; readonly facts: readonly Fact[] }): JSX.Element {
  return <dl class={look}>{facts.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}</dl>;
}
