import type { JSX } from 'preact';
import type { Figure } from './figure.js';
import { openFigure } from './open-figure.js';

/** A figure's name, as a button that shows where the figure comes from. */
export function FigureName({ figure, label = figure.label }: { readonly figure: Pick<Figure, 'key' | 'label'>; readonly label?: string }): JSX.Element {
  return (
    <button type="button" class="figure-name" aria-haspopup="dialog" onClick={() => { openFigure.value = figure.key; }}>{label}</button>
  );
}
