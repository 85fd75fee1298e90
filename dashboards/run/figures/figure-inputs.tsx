import type { JSX } from 'preact';
import type { RunFigureAnswer } from '../../../shared/api-types/figures.js';
import { definitionOf, inputOf } from '../../../shared/weld/figures/figure-definitions.js';
import { pathOf } from '../../../shared/weld/figures/figured-run.js';
import { noValue } from '../../shared/units.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';
import { openFigure } from './figure-table.js';
import { whereFromWords } from './where-from-words.js';

type Input = RunFigureAnswer['inputs'][number];

/** The inputs of a figure as the formula names them, each with its value, unit and origin, and a way on if it is a figure itself. */
export function FigureInputs({ of, figures }: { readonly of: RunFigureAnswer; readonly figures: ReadonlyMap<string, Figure> }): JSX.Element {
  const from = whereFromWords();
  return (
    <ul class="inputs">
      {of.inputs.map((input) => {
        const { label, key } = meaningOf(of.name, input, figures);
        return (
          <li key={input.name}>
            <span class="formula">{input.name}</span> = {valueText(input)}
            {label !== null && <> · {key === null ? label : <button type="button" class="figure-name" onClick={() => { openFigure.value = key; }}>{label}</button>}</>}
            {' '}<span class="aside">({from[input.from]})</span>
          </li>
        );
      })}
    </ul>
  );
}

/** In the unit of the formula, with all digits, so that it can be worked out again. */
function valueText({ value, unit }: Input): string {
  const digits = value === null ? noValue : String(value);
  return unit === '' || value === null ? digits : `${digits}\u00a0${unit}`;
}

/** What an input is called, and the key of its own figure where the page shows it. */
function meaningOf(name: string, { name: ownName }: Input, figures: ReadonlyMap<string, Figure>): { readonly label: string | null; readonly key: string | null } {
  const found = definitionOf(name);
  const own = found === undefined ? undefined : inputOf(found.definition, ownName);
  if (found === undefined || own === undefined) return { label: null, key: null };
  const say = figureWords();
  if ('figure' in own.input) {
    const key = pathOf(own.input.figure, own.arc ?? found.number);
    const figure = figures.get(key);
    return figure === undefined ? { label: null, key: null } : { label: figure.of === undefined ? figure.label : `${figure.label}${say.comma}${figure.of}`, key };
  }
  const words: Readonly<Record<string, unknown>> = whereFromWords();
  const label = words[own.input.name.replace(/N$/, '')];
  if (typeof label !== 'string') return { label: null, key: null };
  return { label: own.arc === null ? label : whereFromWords().ofArc(label, own.arc), key: null };
}
