import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { Reading } from '../../shared/reading.js';
import { digitsOf, unitOf } from '../../shared/units.js';
import { wordsOf } from '../../shared/words.js';
import { arcFigures } from './arc-figure-list.js';
import { FigureName } from './figure-name.js';
import { figureWords } from './figure-words.js';

/** The arcs side by side, for comparison. */
export function ArcTable({ run }: { readonly run: Run }): JSX.Element {
  const say = wordsOf(figureWords);
  const all = run.arcs.map(arcFigures);
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
