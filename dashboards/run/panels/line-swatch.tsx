import type { JSX } from 'preact';
import { dashOf } from './line-style.js';

/** A piece of an arc's line, as it is drawn. */
export function LineSwatch({ arc }: { readonly arc: number }): JSX.Element {
  return (
    <svg class={`swatch swatch-${arc}`} viewBox="0 0 34 8" aria-hidden="true" focusable="false">
      <path d="M0 4h34" stroke-width="2" stroke-dasharray={dashOf(arc).join(' ')} />
    </svg>
  );
}
