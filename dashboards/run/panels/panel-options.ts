import type uPlot from 'uplot';
import { formatNumber } from '../../shared/format.js';
import type { Axis } from '../run-view.js';
import type { Column } from './align-lines.js';
import { tickWords, timeSteps } from './axis-words.js';
import { drawMarks } from './draw-marks.js';
import type { TraceMark } from './trace-marks.js';
import { colourOf, dashOf } from './line-style.js';

export interface PanelInput {
  readonly columns: readonly Column[];
  readonly axis: Axis;
  readonly range: readonly [number, number];
  readonly places: readonly [number, number];
  readonly decimals: number;
  readonly marks: readonly TraceMark[];
  readonly labelled: boolean;
  readonly onPart: (from: number, to: number) => void;
  readonly onWhole: () => void;
  readonly onCursor: (row: number) => void;
}

/** Four panels, the head of the page and the figures fit a screen where it is high enough, CSS px. */
function panelHeight(): number {
  return Math.round(Math.min(170, Math.max(90, (window.innerHeight - 450) / 4)));
}

const axisHeight = 28;
export const sideWidth = 64;
/** Free width on the right, so that the last tick is not cut. */
export const endWidth = 24;

/** The data of a panel as uPlot takes it: places, then mean, greatest and least of each line. */
export function panelData(places: readonly number[], columns: readonly Column[]): uPlot.AlignedData {
  return [[...places], ...columns.flatMap(({ mean, high, low }) => [mean, high, low])];
}

/** How one panel is drawn. Colours are read from the theme when it is made. */
export function panelOptions(input: PanelInput, width: number, sync: string): uPlot.Options {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string): string => style.getPropertyValue(name).trim();
  const font = `12px ${getComputedStyle(document.body).fontFamily}`;
  const axis = { font, stroke: colour('--quiet'), grid: { stroke: colour('--grid'), width: 1 }, ticks: { stroke: colour('--grid'), width: 1, size: 4 } };
  return {
    width,
    height: panelHeight() + (input.labelled ? axisHeight : 0),
    padding: [6, endWidth, input.labelled ? 0 : 6, 0],
    legend: { show: false },
    cursor: {
      sync: { key: sync, scales: ['x', null] },
      y: false,
      drag: { x: true, y: false, setScale: false, dist: 5 },
      points: { size: 6 },
      bind: {
        dblclick: () => () => {
          input.onWhole();
          return null;
        },
      },
    },
    scales: { x: { time: false, range: [...input.places] }, y: { range: [...input.range] } },
    axes: [
      {
        ...axis,
        show: true,
        size: input.labelled ? axisHeight : 0,
        ...(input.axis === 'time' ? { incrs: timeSteps } : {}),
        values: (_, ticks) => (input.labelled ? tickWords(input.axis, ticks) : ticks.map(() => '')),
      },
      { ...axis, size: sideWidth, space: 20, values: (_, ticks) => ticks.map((value) => formatNumber(value, decimalsOf(ticks, input.decimals))) },
    ],
    series: [{}, ...input.columns.flatMap(({ arc }) => lineSeries(colour(colourOf(arc)), dashOf(arc)))],
    bands: input.columns.map(({ arc }, at) => ({ series: [at * 3 + 2, at * 3 + 3], fill: `${colour(colourOf(arc))}38` })),
    hooks: {
      setCursor: [
        (plot) => {
          const { idx, left } = plot.cursor;
          if (typeof idx === 'number' && left !== undefined && left >= 0) input.onCursor(idx);
        },
      ],
      setSelect: [
        (plot) => {
          const { left, width: wide } = plot.select;
          if (wide < 3) return;
          input.onPart(plot.posToVal(left, 'x'), plot.posToVal(left + wide, 'x'));
          plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
        },
      ],
      drawAxes: [
        (plot) => {
          drawMarks(plot, input.marks, { line: colour('--edge'), text: colour('--quiet'), font });
        },
      ],
    },
  };
}

function lineSeries(stroke: string, dash: readonly number[]): uPlot.Series[] {
  const edge = { stroke: 'transparent', width: 0, points: { show: false } };
  return [{ stroke, width: 1.5, dash: [...dash], points: { show: false } }, edge, edge];
}

/** Ticks closer than the quantity is rounded need more decimals. */
function decimalsOf(ticks: readonly number[], usual: number): number {
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0));
  const needed = step > 0 ? Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)) : usual;
  return Math.min(needed, 6);
}
