import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { digitsOf, shown, unitOf } from '../../shared/units.js';
import type { Axis } from '../run-view.js';
import type { Column } from './align-lines.js';
import { placeText } from './axis-scale.js';
import { lineName } from './line-style.js';
import { panelWords } from './panel-words.js';
import { readingsAt } from './readings-at.js';
import type { Measure } from './trace-lines.js';

/** How many places the table lists: enough to see how a run went, few enough to read. */
const told = 50;

interface TraceDataProps {
  readonly axis: Axis;
  readonly places: readonly number[];
  readonly measures: readonly Measure[];
  readonly columns: readonly (readonly Column[])[];
  readonly csv: string;
}

/** The data of the traces as a table, for people who do not see them or want the numbers; built only when it is opened. */
export function TraceData({ axis, places, measures, columns, csv }: TraceDataProps): JSX.Element {
  const say = panelWords();
  const open = useSignal(false);
  return (
    <div class="trace-data">
      <details open={open.value} onToggle={(event) => { open.value = event.currentTarget.open; }}>
        <summary>{say.table}</summary>
        {open.value && <DataTable axis={axis} places={places} measures={measures} columns={columns} />}
      </details>
      <a class="button" href={csv} download>{say.csv}</a>
    </div>
  );
}

function DataTable({ axis, places, measures, columns }: Omit<TraceDataProps, 'csv'>): JSX.Element {
  const say = panelWords();
  const count = Math.min(told, places.length);
  const rows = Array.from({ length: count }, (_, at) => Math.round((at * (places.length - 1)) / Math.max(1, count - 1)));
  const heads = measures.map((measure, at) => ({ measure, columns: columns[at] ?? [], lines: readingsAt(columns[at] ?? [], null) }));
  return (
    <>
      <p class="aside">{say.tableMore(count)}</p>
      <div class="scroll" tabIndex={0} role="region" aria-label={say.table}>
        <table class="mark-table">
          <thead>
            <tr>
              <th scope="col">{say.tablePlace}</th>
              {heads.flatMap(({ measure, lines }) => lines.map(({ arc, kind }) => <th key={`${measure}${kind}${arc}`} scope="col" class="number">{say[measure]}, {lineName(measure, arc, kind)} <span class="unit">{unitOf(measure)}</span></th>))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row}>
                <th scope="row">{placeText(axis, places[row] ?? 0)}</th>
                {heads.flatMap(({ measure, columns: own }) => readingsAt(own, row).map(({ arc, kind, value }) => <td key={`${measure}${kind}${arc}`} class="number">{digitsOf(measure, value)}</td>))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

interface CursorSliderProps {
  readonly axis: Axis;
  readonly places: readonly number[];
  readonly row: number | null;
  readonly measures: readonly Measure[];
  readonly table: readonly (readonly Column[])[];
  readonly onRow: (row: number) => void;
}

/** The cursor for people who use no mouse: arrow keys go from row to row, Page Up and Page Down in larger steps. */
export function CursorSlider({ axis, places, row, measures, table, onRow }: CursorSliderProps): JSX.Element {
  const say = panelWords();
  const at = row === null ? null : (places[row] ?? null);
  return (
    <label class="cursor">
      <span>{say.cursor}</span>
      <input
        type="range"
        min={0}
        max={places.length - 1}
        step={1}
        value={row ?? 0}
        aria-valuetext={at === null || row === null ? say.notSet : `${placeText(axis, at)}: ${say.joined(readingTexts(measures, table, row))}`}
        onInput={(event) => { onRow(event.currentTarget.valueAsNumber); }}
      />
      <output>{at === null ? say.notSet : placeText(axis, at)}</output>
    </label>
  );
}

function readingTexts(measures: readonly Measure[], table: CursorSliderProps['table'], row: number): string[] {
  const say = panelWords();
  return measures.flatMap((measure, at) =>
    readingsAt(table[at] ?? [], row).map(({ arc, kind, value }) => `${say[measure]} ${lineName(measure, arc, kind)} ${value === null ? say.noData : shown(measure, value)}`),
  );
}
