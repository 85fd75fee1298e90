import type { JSX } from 'preact';
import { shown } from '../../shared/units.js';
import { wordsOf } from '../../shared/words.js';
import type { Axis } from '../run-view.js';
import type { Column } from './align-lines.js';
import { placeText } from './axis-scale.js';
import { lineName } from './line-style.js';
import { panelWords } from './panel-words.js';
import { readingsAt } from './readings-at.js';
import type { Measure } from './trace-lines.js';

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
  const say = wordsOf(panelWords);
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
  const say = wordsOf(panelWords);
  return measures.flatMap((measure, at) =>
    readingsAt(table[at] ?? [], row).map(({ arc, kind, value }) => `${say[measure]} ${lineName(measure, arc, kind)} ${value === null ? say.noData : shown(measure, value)}`),
  );
}
