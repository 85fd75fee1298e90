import type { JSX } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import { limitText } from '../../shared/alarm-sentence.js';
import { language, unitSystem } from '../../shared/choices.js';
import { digitsOf, inUnit, shown, unitOf } from '../../shared/units.js';
import type { PanelWindow } from '../windows/use-windows.js';
import { axisName } from './axis-scale.js';
import { colourOf, dashOf, lineName } from './line-style.js';
import { panelData, panelOptions, type PanelInput } from './panel-options.js';
import { panelWords } from './panel-words.js';
import { printing } from './printing.js';
import { readingsAt, type LineReading } from './readings-at.js';
import type { LineKind } from './trace-lines.js';
import { judgedRows, valueRange } from './value-range.js';

export interface PanelProps extends Omit<PanelInput, 'range' | 'windows' | 'windowColours'> {
  readonly windows: readonly PanelWindow[];
  readonly at: readonly number[];
  /** How the value that is compared with the limits is computed; null if nothing is. */
  readonly judgedAs: string | null;
  /** Rows of each arc in which it does not burn. */
  readonly darkRows: ReadonlyMap<number, ReadonlySet<number>>;
  /** Row under the cursor, or null. */
  readonly row: number | null;
  readonly width: number;
  readonly dark: boolean;
}

/** One quantity over the axis: its name and unit, what each line is and its value at the cursor, and the drawing. */
export function Panel(props: PanelProps): JSX.Element {
  const { measure, columns, at, row, width, dark, axis, windows, height, marks, alarms, places, judged, end } = props;
  const say = panelWords();
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const { range, above, below } = useMemo(() => {
    const limits = windows.flatMap(({ min, max }) => [min, max].filter((limit) => limit !== null));
    const rows = judgedRows(at, judged);
    const seen = (arc: number, index: number): boolean => rows[index] === true && props.darkRows.get(arc)?.has(index) !== true;
    return valueRange({ columns, judged: seen, limits, robust: measure === 'heatInput' || measure === 't85', trimmed: axis !== 'time' });
  }, [columns, windows, judged]);
  const severalWindows = windows.length > 1;
  const unit = unitOf(measure);
  const drawnAnew = [printing.value, columns, width, height, dark, marks, alarms, windows, judged, end, places[0], places[1], unitSystem.value, language.value];

  // Before the browser paints, as a printer does not wait.
  useLayoutEffect(() => {
    if (place.current === null) return;
    // The unit is in the heading, as the margin is narrow.
    const limit = (value: number | null, word: string, arc: number): string => (value === null ? '' : `${severalWindows ? `${lineName(measure, arc)} ` : ''}${word} ${limitText(measure, value).split('\u00a0')[0] ?? ''}`);
    const drawn = windows.map(({ arc, min, max }) => ({
      min: min === null ? null : inUnit(measure, min),
      max: max === null ? null : inUnit(measure, max),
      dash: severalWindows ? dashOf(arc) : [],
      minText: limit(min, say.min, arc),
      maxText: limit(max, say.max, arc),
    }));
    const colours = windows.map(({ arc }) => (severalWindows ? colourOf(arc) : '--edge'));
    const own = new uPlot(panelOptions({ ...props, range, windows: drawn, windowColours: colours }, width, 'run'), panelData(axis, measure, at, columns), place.current);
    plot.current = own;
    return () => {
      own.destroy();
      plot.current = null;
    };
  }, drawnAnew);

  useEffect(() => {
    let gone = false;
    // A plot has no scales until its own first task, queued before this one, is done.
    queueMicrotask(() => {
      const own = plot.current;
      const x = row === null ? undefined : own?.data[0][row];
      if (gone || own === null || x === undefined) return;
      const left = own.valToPos(x, 'x');
      if (Math.abs((own.cursor.left ?? -10) - left) > 0.5) own.setCursor({ left, top: 0 }, false);
    });
    return () => { gone = true; };
  }, [row, ...drawnAnew]);

  const readings = useMemo(() => readingsAt(columns, row), [columns, row]);
  const permitted = windows.map(({ arc, min, max }) => {
    const values = [min === null ? null : `${say.min} ${limitText(measure, min)}`, max === null ? null : `${say.max} ${limitText(measure, max)}`].filter((text) => text !== null);
    return `${severalWindows ? `${lineName(measure, arc)} ` : ''}${values.join(' ')}`;
  });
  const words = columns.length === 0 ? [say.drawingEmpty(say[measure])] : [say.drawing(say[measure], axisName(axis), shown(measure, range[0]), shown(measure, range[1])), ...permitted.map((text) => say.permitted(text))];
  return (
    <section class="panel" aria-label={say.section(say[measure], unit)}>
      <h3>{say[measure]} <span class="unit">{unit}</span></h3>
      <ul class="lines">
        {props.judgedAs !== null && readings.some(({ kind }) => kind === 'judged') && <li class="judged-as">{props.judgedAs}</li>}
        {readings.map((own) => (
          <li key={`${own.kind}${own.arc}`}>
            <LineSwatch arc={own.arc} kind={own.kind} /> {lineName(measure, own.arc, own.kind)} <LineValues measure={measure} reading={own} set={row !== null} />
          </li>
        ))}
        {above !== null && <li class="beyond">{say.above(shown(measure, above))}</li>}
        {below !== null && <li class="beyond">{say.below(shown(measure, below))}</li>}
      </ul>
      <div ref={place} class="drawing" role="img" aria-label={say.joined(words)} />
    </section>
  );
}

/** At the cursor, once it is set, and the extremes of the part that is shown. */
function LineValues({ measure, reading: { value, min, max }, set }: { readonly measure: PanelProps['measure']; readonly reading: LineReading; readonly set: boolean }): JSX.Element {
  const say = panelWords();
  return (
    <>
      {set && <span class="at-cursor">{shown(measure, value)}</span>}
      {min !== null && <span class="extremes"> {say.extremes(digitsOf(measure, min), digitsOf(measure, max))}</span>}
    </>
  );
}

/** A piece of a line, as it is drawn. */
function LineSwatch({ arc, kind }: { readonly arc: number; readonly kind: LineKind }): JSX.Element {
  return (
    <svg class={`swatch swatch-${kind === 'other' ? 'other' : arc}`} viewBox="0 0 34 8" aria-hidden="true" focusable="false">
      <path d="M0 4h34" stroke-width={kind === 'other' ? 1 : 2} stroke-dasharray={dashOf(arc).join(' ')} />
    </svg>
  );
}
