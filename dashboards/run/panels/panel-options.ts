import type uPlot from 'uplot';
import { formatNumber, inUnit } from '../../shared/units.js';
import type { Axis } from '../run-view.js';
import type { Cells, Column } from './align-lines.js';
import { decimalsOf, fromDrawn, tickTexts, timeSteps, toDrawn } from './axis-scale.js';
import { drawAlarms, drawMarks, drawMarkNames, type DrawnAlarm, type DrawnMark } from './draw-marks.js';
import { drawWindows, type DrawnWindow } from './draw-windows.js';
import { colourOf, dashOf, otherColour } from './line-style.js';
import type { Measure } from './trace-lines.js';
import { axisRem, drawnFont, remSize, sideRem } from './type-scale.js';

/** What a panel draws; places and values in the API's units, converted when they are drawn. */
export interface PanelInput {
  readonly measure: Measure;
  readonly columns: readonly Column[];
  readonly axis: Axis;
  readonly range: readonly [number, number];
  readonly places: readonly [number, number];
  readonly marks: readonly DrawnMark[];
  readonly alarms: readonly DrawnAlarm[];
  readonly windows: readonly Omit<DrawnWindow, 'colour'>[];
  /** Names of the theme's colours of those windows. */
  readonly windowColours: readonly string[];
  readonly judged: readonly (readonly [number, number])[];
  readonly labelled: boolean;
  readonly height: number;
  /** Width left free on the right, CSS px. */
  readonly end: number;
  readonly onPart: (from: number, to: number) => void;
  readonly onWhole: () => void;
  readonly onCursor: (at: number) => void;
}

/** The data of a panel as uPlot expects it: places, then mean, greatest and least value of each line, in the chosen units. */
export function panelData(axis: Axis, measure: Measure, places: readonly number[], columns: readonly Column[]): uPlot.AlignedData {
  const converted = (cells: Cells): Cells => cells.map((value) => (typeof value === 'number' ? inUnit(measure, value) : value));
  return [places.map((at) => toDrawn(axis, at)), ...columns.flatMap(({ mean, high, low }) => [converted(mean), converted(high), converted(low)])];
}

/** Half of a line of the type beside the ticks. */
const tickRoom = 0.45;

/** How one panel is drawn. Colours are read from the theme when it is made. */
export function panelOptions(input: PanelInput, width: number, sync: string): uPlot.Options {
  const { axis, measure, labelled, columns } = input;
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string): string => style.getPropertyValue(name).trim();
  const rem = remSize();
  const axisHeight = Math.round(axisRem * rem);
  const font = drawnFont(0.75, 1);
  const side = { font, stroke: colour('--quiet'), grid: { stroke: colour('--grid'), width: 1 }, ticks: { stroke: colour('--grid'), width: 1, size: 4 } };
  const drawn = ([from, to]: readonly [number, number]): [number, number] => [toDrawn(axis, from), toDrawn(axis, to)];
  const values = ([from, to]: readonly [number, number]): [number, number] => [inUnit(measure, from), inUnit(measure, to)];
  const marks = input.marks.map((mark) => ({ ...mark, from: toDrawn(axis, mark.from), to: toDrawn(axis, mark.to) }));
  const alarms = input.alarms.map(({ at, acknowledged }) => ({ at: toDrawn(axis, at), acknowledged: acknowledged === null ? null : toDrawn(axis, acknowledged) }));
  const windows = input.windows.map((own, at) => ({ ...own, colour: colour(input.windowColours[at] ?? '--edge') }));
  const markStyle = { line: colour('--edge'), text: colour('--quiet'), field: colour('--field'), attention: colour('--attention-text') };
  const strokes = columns.map(({ arc, kind }) => colour(kind === 'other' ? otherColour : colourOf(arc)));
  let told: MouseEvent | null = null;
  return {
    width,
    height: input.height + (labelled ? axisHeight : 0),
    // Half a line, so that the label of a tick at the very end is not cut.
    padding: [Math.ceil(tickRoom * rem), input.end, labelled ? 0 : Math.ceil(tickRoom * rem), 0],
    legend: { show: false },
    cursor: {
      sync: { key: sync, scales: ['x', null] },
      y: false,
      drag: { x: true, y: false, setScale: false, dist: 5 },
      // A dot at a line's nearest point would look like a reading at the cursor; the readings are shown above.
      points: { show: false },
      bind: {
        dblclick: () => () => {
          input.onWhole();
          return null;
        },
      },
    },
    scales: { x: { time: false, range: drawn(input.places) }, y: { range: values(input.range) } },
    axes: [
      {
        ...side,
        show: true,
        size: labelled ? axisHeight : 0,
        ...(axis === 'time' ? { incrs: timeSteps } : {}),
        values: (_, ticks) => (labelled ? tickTexts(axis, ticks) : ticks.map(() => '')),
      },
      { ...side, size: sideRem * rem, space: 1.25 * rem, values: (_, ticks) => ticks.map((value) => formatNumber(value, decimalsOf(ticks))) },
    ],
    series: [{}, ...columns.flatMap((column, at) => lineSeries(strokes[at] ?? '', column, columns))],
    // From least to greatest recorded value; the band of a compared line would hide it.
    bands: columns.flatMap(({ kind }, at) => (kind === 'other' ? [] : [{ series: [at * 3 + 2, at * 3 + 3] as [number, number], fill: `${strokes[at] ?? ''}${kind === 'judged' ? '30' : '28'}` }])),
    hooks: {
      setCursor: [
        (plot) => {
          const { event, idx, left } = plot.cursor;
          // This is called again when the axis changes, for the same pixel; only a movement by a person counts.
          if (event === undefined || event === told) return;
          told = event;
          const place = typeof idx === 'number' && left !== undefined && left >= 0 ? plot.data[0][idx] : undefined;
          if (place !== undefined) input.onCursor(fromDrawn(axis, place));
        },
      ],
      setSelect: [
        (plot) => {
          const { left, width: wide } = plot.select;
          if (wide < 3) return;
          input.onPart(fromDrawn(axis, plot.posToVal(left, 'x')), fromDrawn(axis, plot.posToVal(left + wide, 'x')));
          plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
        },
      ],
      drawAxes: [
        (plot) => {
          drawWindows(plot, windows, input.judged.map(drawn), colour('--quiet'));
          drawMarks(plot, marks, markStyle);
        },
      ],
      draw: [
        (plot) => {
          drawMarkNames(plot, marks, markStyle);
          drawAlarms(plot, alarms, markStyle);
        },
      ],
    },
  };
}

/** The judged values are the main line; the rows of the same quantity are drawn thin behind it. */
function lineSeries(stroke: string, { arc, kind }: Column, columns: readonly Column[]): uPlot.Series[] {
  const edge = { stroke: 'transparent', width: 0, points: { show: false } };
  const behind = kind === 'raw' && columns.some((own) => own.kind === 'judged');
  const line = kind === 'other' ? { stroke, width: 1.25 } : behind ? { stroke: `${stroke}80`, width: 0.75 } : { stroke, width: kind === 'judged' ? 2 : 1.5 };
  return [{ ...line, dash: [...dashOf(arc)], points: { show: false } }, edge, edge];
}
