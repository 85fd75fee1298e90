import type { JSX } from 'preact';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { decimalsOf as tickDecimals } from '../run/panels/axis-scale.js';
import { printing } from '../run/panels/printing.js';
import { axisRem, drawnFont, remSize, sideRem } from '../run/panels/type-scale.js';
import { useSize } from '../run/panels/use-size.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { language, unitSystem } from '../shared/choices.js';
import { dark } from '../shared/dark.js';
import { formatNumber, inUnit, type ShownQuantity } from '../shared/units.js';
import { capabilityWords } from './capability-words.js';
import { drawLines, drawPoints, type ChartColours, type ChartLine } from './draw-chart.js';
import { measureOf, type PointSignal } from './point-signal.js';

const heightRem = 20;
/** Room for the labels of the lines, rem. */
const endRem = 7;

interface ChartProps {
  readonly answer: CapabilityAnswer;
  readonly signals: readonly PointSignal[];
  readonly chosen: number | null;
  readonly choose: (at: number) => void;
  readonly open: (at: number) => void;
}

/** The individuals chart. The arrow keys go from run to run, Enter and a click lead to one; the table below says the same in words. */
export function CapabilityChart({ answer, signals, chosen, choose, open }: ChartProps): JSX.Element {
  const say = capabilityWords();
  const [size, width] = useSize();
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const marked = useRef<number | null>(chosen);
  marked.current = chosen;
  const measure = measureOf(answer.quantity);
  const values = useMemo(() => answer.runs.map(({ value }) => inUnit(measure, value)), [answer, unitSystem.value]);
  const count = values.length;

  useLayoutEffect(() => {
    if (place.current === null || width === 0) return;
    const own = new uPlot(chartOptions({ answer, measure, values, signals, width, marked: () => marked.current, open }), [values.map((_, at) => at + 1), values], place.current);
    plot.current = own;
    return () => {
      own.destroy();
      plot.current = null;
    };
  }, [answer, values, signals, width, dark.value, printing.value, language.value]);
  useLayoutEffect(() => { plot.current?.redraw(false); }, [chosen]);

  const step = (event: KeyboardEvent): void => {
    const from = chosen ?? -1;
    const next = { ArrowRight: Math.min(count - 1, from + 1), ArrowLeft: Math.max(0, from - 1), Home: 0, End: count - 1 }[event.key];
    if (next !== undefined) choose(next);
    else if (event.key === 'Enter' && chosen !== null) open(chosen);
    else return;
    event.preventDefault();
  };
  return (
    <div ref={size} class="capability-chart">
      <div ref={place} tabIndex={0} role="group" aria-label={say.chart(quantityWord(answer.quantity), count, answer.signals.length)} style={{ height: `${heightRem}rem` }} onKeyDown={step} />
    </div>
  );
}

interface DrawnChart {
  readonly answer: CapabilityAnswer;
  readonly measure: ShownQuantity;
  readonly values: readonly number[];
  readonly signals: readonly PointSignal[];
  readonly width: number;
  readonly marked: () => number | null;
  readonly open: (at: number) => void;
}

function chartOptions({ answer, measure, values, signals, width, marked, open }: DrawnChart): uPlot.Options {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string): string => style.getPropertyValue(name).trim();
  const colours: ChartColours = { line: colour('--edge'), text: colour('--ink'), point: colour('--line-1'), attention: colour('--attention'), field: colour('--field') };
  const side = { font: drawnFont(0.75, 1), stroke: colour('--quiet'), grid: { stroke: colour('--grid'), width: 1 }, ticks: { stroke: colour('--grid'), width: 1, size: 4 } };
  const rem = remSize();
  const lines = linesOf(answer, measure);
  const { window } = answer;
  const drawn = window === null ? null : { min: window.min === undefined ? null : inUnit(measure, window.min), max: window.max === undefined ? null : inUnit(measure, window.max) };
  const [low, high] = [Math.min(...values, ...lines.map(({ value }) => value)), Math.max(...values, ...lines.map(({ value }) => value))];
  const room = (high - low || Math.abs(high) || 1) * 0.06;
  const band = colour('--line-1');
  return {
    width, height: Math.round(heightRem * rem), padding: [Math.ceil(0.6 * rem), Math.round(endRem * rem), 0, 0],
    legend: { show: false },
    cursor: {
      y: false, drag: { x: false, y: false },
      points: { show: false },
      bind: {
        click: (self) => () => {
          const { idx } = self.cursor;
          if (typeof idx === 'number') open(idx);
          return null;
        },
      },
    },
    scales: { x: { time: false, range: [0.5, values.length + 0.5] }, y: { range: [low - room, high + room] } },
    axes: [
      { ...side, size: Math.round(axisRem * rem), incrs: [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000], values: (_, ticks) => ticks.map((tick) => formatNumber(tick, 0)) },
      { ...side, size: sideRem * rem, values: (_, ticks) => ticks.map((tick) => formatNumber(tick, tickDecimals(ticks))) },
    ],
    series: [{}, { stroke: colours.point, width: 1, points: { show: false } }],
    hooks: {
      drawClear: [(self) => { drawLines(self, lines, drawn, { ...colours, line: colours.line === '' ? band : colours.line }); }],
      draw: [(self) => { drawPoints(self, signals, marked(), colours); }],
    },
  };
}

/** The lines of the mean, of the control limits and of the limits of the procedure. */
function linesOf({ mean, limits, window }: CapabilityAnswer, measure: ShownQuantity): ChartLine[] {
  const say = capabilityWords();
  const decimals = 2 + (measure === 'heatInput' ? 1 : 0);
  const line = (value: number | null | undefined, word: string, dash: readonly number[]): ChartLine[] =>
    value === null || value === undefined ? [] : [{ value: inUnit(measure, value), text: `${word} ${formatNumber(inUnit(measure, value), decimals)}`, dash }];
  return [
    ...line(mean, say.meanShort, []), ...line(limits?.lower, say.lowerShort, [6, 4]), ...line(limits?.upper, say.upperShort, [6, 4]),
    ...line(window?.min, say.minShort, [1, 3]), ...line(window?.max, say.maxShort, [1, 3]),
  ];
}
