import type { JSX } from 'preact';
import { Reading } from '../../shared/reading.js';
import { digitsOf, unitOf } from '../../shared/units.js';
import { wordsOf } from '../../shared/words.js';
import { absentText } from './absent-text.js';
import type { Figure } from './figure.js';
import { FigureName } from './figure-name.js';
import { figureWords } from './figure-words.js';

/** Figures one below the other, with their units, and the reason where one is missing. */
export function FigureTable({ figures }: { readonly figures: readonly Figure[] }): JSX.Element {
  const say = wordsOf(figureWords);
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
