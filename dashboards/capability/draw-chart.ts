import type uPlot from 'uplot';
import { spreadLabels } from '../run/panels/draw-windows.js';
import { drawnFont, remSize } from '../run/panels/type-scale.js';
import type { PointSignal } from './point-signal.js';

/** A horizontal line with its label in the margin; values in the drawing's units. */
export interface ChartLine {
  readonly value: number;
  readonly text: string;
  readonly dash: readonly number[];
}

export interface ChartColours {
  readonly line: string;
  readonly text: string;
  readonly point: string;
  readonly attention: string;
  readonly field: string;
}

/** Draws the band between the limits of the procedure, and all lines with their labels, moved apart where they are close. */
export function drawLines(plot: uPlot, lines: readonly ChartLine[], window: { readonly min: number | null; readonly max: number | null } | null, colours: ChartColours): void {
  const { ctx, bbox } = plot;
  const scale = globalThis.devicePixelRatio;
  const yOf = (value: number): number => plot.valToPos(value, 'y', true);
  const right = bbox.left + bbox.width;
  ctx.save();
  ctx.fillStyle = colours.line;
  if (window !== null) {
    const top = window.max === null ? bbox.top : Math.max(bbox.top, yOf(window.max));
    const bottom = window.min === null ? bbox.top + bbox.height : Math.min(bbox.top + bbox.height, yOf(window.min));
    ctx.globalAlpha = 0.12;
    if (bottom > top) ctx.fillRect(bbox.left, top, bbox.width, bottom - top);
    ctx.globalAlpha = 1;
  }
  ctx.strokeStyle = colours.line;
  ctx.lineWidth = scale;
  for (const { value, dash } of lines) {
    ctx.setLineDash(dash.map((part) => part * scale));
    ctx.beginPath();
    ctx.moveTo(bbox.left, yOf(value));
    ctx.lineTo(right, yOf(value));
    ctx.stroke();
  }
  ctx.setLineDash([]);
  ctx.font = drawnFont(0.6875, scale);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.fillStyle = colours.text;
  const height = 0.8 * remSize() * scale;
  const places = spreadLabels(lines.map(({ value }) => yOf(value)), height, [bbox.top + height / 2, bbox.top + bbox.height - height / 2]);
  for (const [at, { value, text }] of lines.entries()) {
    const y = places[at] ?? yOf(value);
    ctx.beginPath();
    ctx.moveTo(right, yOf(value));
    ctx.lineTo(right + 6 * scale, y);
    ctx.stroke();
    ctx.fillText(text, right + 8 * scale, y);
  }
  ctx.restore();
}

/** Draws each value: a dot, a triangle where it lies beyond a control limit, a square where it belongs to a stretch on one side; and a ring around the chosen one. */
export function drawPoints(plot: uPlot, signals: readonly PointSignal[], chosen: number | null, colours: ChartColours): void {
  const { ctx } = plot;
  const scale = globalThis.devicePixelRatio;
  const [places, values = []] = plot.data;
  ctx.save();
  ctx.lineWidth = 1.5 * scale;
  for (const [at, place] of places.entries()) {
    const value = values[at];
    if (typeof value !== 'number') continue;
    const x = plot.valToPos(place, 'x', true);
    const y = plot.valToPos(value, 'y', true);
    const signal = signals[at] ?? null;
    ctx.fillStyle = signal === null ? colours.point : colours.attention;
    ctx.strokeStyle = colours.field;
    ctx.beginPath();
    if (signal === 'limit') {
      const r = 6.5 * scale;
      ctx.moveTo(x, y - r);
      ctx.lineTo(x + r, y + 0.8 * r);
      ctx.lineTo(x - r, y + 0.8 * r);
      ctx.closePath();
    } else if (signal === 'side') {
      const r = 4 * scale;
      ctx.rect(x - r, y - r, 2 * r, 2 * r);
    } else ctx.arc(x, y, 3.5 * scale, 0, 2 * Math.PI);
    ctx.fill();
    ctx.stroke();
    if (at !== chosen) continue;
    ctx.strokeStyle = colours.text;
    ctx.beginPath();
    ctx.arc(x, y, 9 * scale, 0, 2 * Math.PI);
    ctx.stroke();
  }
  ctx.restore();
}
