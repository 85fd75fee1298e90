import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import { formatNumber } from '../../shared/format.js';
import { quantities } from '../../shared/quantities.js';
import type { Column } from './align-lines.js';
import { LineSwatch } from './line-swatch.js';
import { lineName } from './line-style.js';
import { panelData, panelOptions } from './panel-options.js';
import type { PanelInput } from './panel-options.js';
import type { Measure } from './trace-lines.js';
import { valueRange } from './value-range.js';
import { readingsAt } from './readings-at.js';

export interface PanelProps extends Omit<PanelInput, 'range' | 'decimals' | 'columns'> {
  readonly measure: Measure;
  readonly columns: readonly Column[];
  readonly at: readonly number[];
  /** Row under the cursor, or null. */
  readonly row: number | null;
  readonly width: number;
  readonly dark: boolean;
}

/** One quantity over the axis: its name and unit, what each line is and shows at the cursor, and the drawing. */
export function Panel(props: PanelProps): JSX.Element {
  const { measure, columns, at, row, width, dark, axis } = props;
  const { label, unit, decimals } = quantities[measure];
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const { range, beyond } = valueRange(columns, measure === 'heatInput');

  useEffect(() => {
    if (place.current === null) return;
    const own = new uPlot(panelOptions({ ...props, range, decimals }, width, 'run'), panelData(at, columns), place.current);
    plot.current = own;
    return () => {
      own.destroy();
      plot.current = null;
    };
  }, [columns, width, dark, props.marks]);

  useEffect(() => {
    const x = row === null ? undefined : at[row];
    if (plot.current === null || x === undefined) return;
    const left = plot.current.valToPos(x, 'x');
    if (Math.abs((plot.current.cursor.left ?? -10) - left) > 0.5) plot.current.setCursor({ left, top: 0 }, false);
  }, [row, columns, width, dark]);

  const readings = readingsAt(columns, row);
  return (
    <section class="panel" aria-label={`${label} in ${unit}`}>
      <h3>
        {label} {measure === 'heatInput' && readings.length > 1 ? 'of each arc ' : ''}
        <span class="unit">{unit}</span>
      </h3>
      <ul class="lines">
        {readings.map(({ arc, value }) => (
          <li key={arc}>
            <LineSwatch arc={arc} /> {lineName(arc)} <span class="at-cursor">{formatNumber(value, decimals)}</span>
          </li>
        ))}
        {beyond !== null && <li class="beyond">greatest {formatNumber(beyond, decimals)} lies above the drawing</li>}
      </ul>
      <div ref={place} class="drawing" role="img" aria-label={drawingWords(label, unit, columns, range, decimals, axis)} />
    </section>
  );
}

function drawingWords(label: string, unit: string, columns: readonly Column[], range: readonly [number, number], decimals: number, axis: string): string {
  if (columns.length === 0) return `${label}: no data in this part`;
  const over = axis === 'time' ? 'time' : axis === 'travelled' ? 'mm travelled' : 'mm on the seam';
  return `${label} over ${over}, drawn from ${formatNumber(range[0], decimals)} to ${formatNumber(range[1], decimals)} ${unit}`;
}
