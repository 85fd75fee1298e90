import { h, render } from 'preact';
import { afterEach, vi } from 'vitest';

export interface RunningHook<P, T> {
  /** What the hook gave last. */
  readonly now: () => T;
  /** Everything it gave, in order. */
  readonly given: readonly T[];
  readonly rerender: (props: P) => void;
  readonly unmount: () => void;
}

const open = new Set<() => void>();
afterEach(() => {
  for (const unmount of open) unmount();
});

/** Runs a hook in a component that draws nothing, so that it needs no browser; Preact alone decides when it runs again. */
export function runHook<P, T>(hook: (props: P) => T, first: P): RunningHook<P, T> {
  // The little of a document that Preact touches where nothing is drawn.
  vi.stubGlobal('document', {});
  const root = { nodeType: 1, childNodes: [], firstChild: null, namespaceURI: null } as unknown as Element;
  const given: T[] = [];
  const Hooked = ({ props }: { readonly props: P }): null => {
    given.push(hook(props));
    return null;
  };
  const rerender = (props: P): void => { render(h(Hooked, { props }), root); };
  const unmount = (): void => {
    render(null, root);
    open.delete(unmount);
  };
  open.add(unmount);
  rerender(first);
  return { given, rerender, unmount, now: () => given.at(-1) as T };
}
