import { signal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { Reading } from '../../shared/reading.js';
import { digitsOf, unitOf } from '../../shared/units.js';
import { absentText } from './absent-text.js';
import { arcFigures, isOfArc } from './arc-figure-list.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';

/** Figures one below the other, with their units, and the reason where one is missing. */
export function FigureTable({ figures }: { readonly figures: readonly Figure[] }): JSX.Element {
  const say = figureWords();
  return (
    <table class="figures">
      <tbody>
        {figures.map((figure) => (
          <tr key={figure.key} class={figure.part === true ? 'sub' : undefined}>
            <th scope="row"><FigureName figure={figure} /></th>
            <td class="number"><Reading text={digitsOf(figure.quantity, figure.value)} stale={false} /></td>
            <td class={figure.value === null ? 'unit why' : 'unit'}>{figure.value === null ? (figure.why === undefined ? say.notGiven : absentText(figure.why)) : unitOf(figure.quantity)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The arcs side by side, for comparison. */
export function ArcTable({ run }: { readonly run: Run }): JSX.Element {
  const say = figureWords();
  const all = arcFigures(run);
  return (
    <section>
      <h2>{run.arcs.length === 1 ? say.figuresOfArc : say.ofArcs(run.arcs.length)}</h2>
      {run.arcs.length === 0 ? (
        <p class="none">{say.noArc}</p>
      ) : (
        <table class="figures">
          <thead>
            <tr>
              <td />
              {run.arcs.map(({ arc }) => <th key={arc} scope="col" class="number">{say.arcLabel(arc)}</th>)}
              <td />
            </tr>
          </thead>
          <tbody>
            {all[0]?.map((first, row) => (
              <tr key={first.key} class={first.part === true ? 'sub' : undefined}>
                <th scope="row">{all.length === 1 ? <FigureName figure={first} /> : first.label}</th>
                {all.map((own) => {
                  const figure = own[row];
                  if (figure === undefined) return null;
                  if (!isOfArc(figure)) return <td key={figure.key} />;
                  const text = digitsOf(figure.quantity, figure.value);
                  return (
                    <td key={figure.key} class="number">
                      {all.length === 1 || figure.value === null ? <Reading text={text} stale={false} /> : <FigureName figure={figure} label={text} />}
                    </td>
                  );
                })}
                <td class="unit">{unitOf(first.quantity)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

/** A figure's name, as a button that shows where the figure comes from. */
export function FigureName({ figure, label = figure.label }: { readonly figure: Pick<Figure, 'key' | 'label'>; readonly label?: string }): JSX.Element {
  return (
    <button type="button" class="figure-name" aria-haspopup="dialog" onClick={() => { openFigure.value = figure.key; }}>{label}</button>
  );
}

/** Key of the figure whose origin is shown, or null. */
export const openFigure = signal<string | null>(null);
