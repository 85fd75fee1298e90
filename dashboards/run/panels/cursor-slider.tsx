import type { JSX } from 'preact';
import { quantities, withUnit } from '../../shared/quantities.js';
import type { Axis } from '../run-view.js';
import type { Column } from './align-lines.js';
import { placeWords } from './axis-words.js';
import { lineName } from './line-style.js';
import { readingsAt } from './readings-at.js';
import { measures } from './trace-lines.js';

interface CursorSliderProps {
  readonly axis: Axis;
  readonly places: readonly number[];
  readonly row: number | null;
  readonly table: readonly (readonly Column[])[];
  readonly onRow: (row: number) => void;
}

/** The cursor for those who use no mouse: arrow keys go from row to row, Page Up and Page Down in larger steps. */
export function CursorSlider({ axis, places, row, table, onRow }: CursorSliderProps): JSX.Element {
  const at = row === null ? null : (places[row] ?? null);
  return (
    <label class="cursor">
      <span>Cursor</span>
      <input
        type="range"
        min={0}
        max={places.length - 1}
        step={1}
        value={row ?? 0}
        aria-valuetext={at === null || row === null ? 'not set' : `${placeWords(axis, at)}: ${readingWords(table, row)}`}
        onInput={(event) => {
          onRow(event.currentTarget.valueAsNumber);
        }}
      />
      <output>{at === null ? 'not set' : placeWords(axis, at)}</output>
    </label>
  );
}

function readingWords(table: CursorSliderProps['table'], row: number): string {
  const words = measures.flatMap((measure, at) =>
    readingsAt(table[at] ?? [], row).map(({ arc, value }) => `${quantities[measure].label} ${lineName(arc)} ${value === null ? 'no data' : withUnit(measure, value)}`),
  );
  return words.join(', ');
}
