import type { JSX } from 'preact';
import { dashOf } from './line-style.js';
import type { LineKind } from './trace-lines.js';

/** A piece of a line, as it is drawn. */
export function LineSwatch({ arc, kind }: { readonly arc: number; readonly kind: LineKind }): JSX.Element {
  return (
    <svg class={`swatch swatch-${kind === 'other' ? 'other' : arc}`} viewBox="0 0 34 8" aria-hidden="true" focusable="false">
      <path d="M0 4h34" stroke-width={kind === 'other' ? 1 : 2} stroke-dasharray={dashOf(arc).join(' ')} />
    </svg>
  );
}
