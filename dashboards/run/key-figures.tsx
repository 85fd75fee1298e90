import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { digitsOf, unitOf } from '../shared/units.js';
import { absentText } from './figures/absent-text.js';
import { arcFigures } from './figures/arc-figure-list.js';
import { FigureName } from './figures/figure-table.js';
import { figureWords } from './figures/figure-words.js';
import { runFigureGroups } from './figures/run-figure-list.js';
import { runWords } from './run-words.js';

/** The figures that people look for first, each with a way to its origin or the reason why it is missing. */
export function KeyFigures({ run, stale }: { readonly run: Run; readonly stale: boolean }): JSX.Element {
  const say = figureWords();
  const all = new Map([...runFigureGroups(run).flatMap((group) => group.figures), ...arcFigures(run).flat()].map((figure) => [figure.key, figure]));
  const wanted: readonly { readonly key: string; readonly label: string; readonly mean: boolean; readonly more?: string }[] = [
    { key: 'weldZone.heatInput', label: say.weldHeatInput, mean: false, more: say.certificateMore },
    { key: 'heatInput', label: say.wholeRun(), mean: false, more: say.wholeRunMore },
    { key: 'length', label: say.length, mean: false },
    // Two arcs have figures enough for one line.
    ...(run.arcs.length > 1 ? [] : [{ key: 'arcTime', label: say.arcTime, mean: false }]),
    { key: 'travelSpeed.mean', label: say.travelSpeed, mean: true },
    ...run.arcs.flatMap(({ arc }) =>
      (['current', 'voltage'] as const).map((of) => ({ key: `arcs.${arc}.${of}.mean`, label: run.arcs.length === 1 ? say[of] : say.ofArcNumber(say[of], arc), mean: true })),
    ),
  ];
  return (
    <dl class="key-figures">
      {wanted.map(({ key, label, mean, more }) => {
        const figure = all.get(key);
        if (figure === undefined) return null;
        const { quantity, value, why } = figure;
        const doubtful = run.flags.includes('averageOfAlternating') && quantity === 'heatInput' && value !== null;
        return (
          <div key={key}>
            <dt><FigureName figure={figure} label={mean ? say.mean(label) : label} /></dt>
            <dd>
              {doubtful && <Mark name="warning" />} <span class={doubtful ? 'value doubtful' : 'value'}>
                <Reading text={digitsOf(quantity, value)} stale={stale} />
              </span>{' '}
              <span class="unit">{value === null ? absentText(why ?? say.notGiven) : unitOf(quantity)}</span>
              {(doubtful || more !== undefined) && <span class="key-more">{doubtful ? runWords().notReliable : more}</span>}
            </dd>
          </div>
        );
      })}
    </dl>
  );
}
