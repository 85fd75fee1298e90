import type { JSX } from 'preact';
import type { MarkName } from './mark-name.js';

/** Shapes that differ without colour. Each is shown beside a word, so none is read out. */
const shapes: Readonly<Record<MarkName, JSX.Element>> = {
  full: <circle cx="8" cy="8" r="5.5" fill="currentColor" />,
  empty: <circle cx="8" cy="8" r="5" fill="none" stroke="currentColor" stroke-width="1.8" />,
  crossed: <path d="M3 3l10 10M13 3L3 13" stroke="currentColor" stroke-width="2.4" />,
  warning: <path d="M8 1.5L15 14H1zM8 6v4.2M8 11.4v1.4" fill="none" stroke="currentColor" stroke-width="1.7" />,
  half: (
    <g>
      <circle cx="8" cy="8" r="5" fill="none" stroke="currentColor" stroke-width="1.8" />
      <path d="M8 3a5 5 0 0 0 0 10z" fill="currentColor" />
    </g>
  ),
  // The stroke and dot are holes, so that it holds on any surface.
  alert: <path fill-rule="evenodd" fill="currentColor" d="M8 .8L15.8 15H.2zM7.1 5.6L7.4 10.2H8.6L8.9 5.6zM8 11.2a1 1 0 1 0 .01 0z" />,
  square: <rect x="3" y="3" width="10" height="10" fill="currentColor" />,
};

export function Mark({ name }: { readonly name: MarkName }): JSX.Element {
  return <svg class={`mark mark-${name}`} viewBox="0 0 16 16" aria-hidden="true" focusable="false">{shapes[name]}</svg>;
}
