import type uPlot from 'uplot';
import { drawnFont, remSize } from './type-scale.js';

/** A mark as one trace shows it: places of the x scale. */
export interface DrawnMark {
  readonly kind: 'zone' | 'restart' | 'gap' | 'excursion';
  /** The label: its code, and its arc if there are several. */
  readonly name: string;
  /** The arc of an excursion; 0 if it belongs to none. */
  readonly arc: number;
  readonly from: number;
  readonly to: number;
  /** The one that was stepped to. */
  readonly chosen: boolean;
}

/** An alarm as the trace of its quantity shows it: where it was raised, and where it was acknowledged. */
export interface DrawnAlarm { readonly at: number; readonly acknowledged: number | null }

interface MarkStyle {
  readonly line: string;
  readonly text: string;
  readonly field: string;
  readonly attention: string;
}

/** Dots where zones end, hatches data gaps and (another way for each arc) excursions, frames restarts, and names all but the zones. */
export function drawMarks(plot: uPlot, marks: readonly DrawnMark[], style: MarkStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  ctx.save();
  clipTo(ctx, bbox);
  ctx.lineWidth = scale;
  for (const { kind, from, to, arc, chosen } of marks) {
    const [left, right] = endsOf(plot, from, to, scale);
    if (right < bbox.left || left > bbox.left + bbox.width) continue;
    ctx.strokeStyle = kind === 'excursion' ? style.attention : style.line;
    if (kind === 'zone') zoneEnds(ctx, left, right, bbox, scale);
    else {
      if (kind === 'gap') hatch(ctx, left, right, bbox, 1, 8 * scale, 0.5);
      if (kind === 'excursion') {
        fill(ctx, left, right, bbox, style.attention);
        hatch(ctx, left, right, bbox, arc % 2 === 0 ? 1 : -1, (arc > 2 ? 14 : 9) * scale, 0.35);
      }
      ctx.setLineDash(kind === 'restart' ? [4 * scale, 3 * scale] : []);
      ctx.strokeRect(left, bbox.top - scale, right - left, bbox.height + 2 * scale);
    }
    if (chosen) {
      ctx.setLineDash([]);
      ctx.fillStyle = style.text;
      ctx.fillRect(left, bbox.top, right - left, 3 * scale);
    }
  }
  ctx.restore();
}

/** Writes the names of marks over the lines, on a background of their own. Names of marks that lie close together are written below one another. */
export function drawMarkNames(plot: uPlot, marks: readonly DrawnMark[], style: MarkStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  const line = 0.8125 * remSize() * scale;
  const written: { readonly left: number; readonly right: number; readonly row: number }[] = [];
  ctx.save();
  clipTo(ctx, bbox);
  ctx.textBaseline = 'top';
  ctx.textAlign = 'left';
  ctx.font = drawnFont(0.6875, scale, 600);
  for (const { kind, name, from, to } of marks) {
    if (kind === 'zone') continue;
    const [left, right] = endsOf(plot, from, to, scale);
    if (right < bbox.left || left > bbox.left + bbox.width) continue;
    const wide = ctx.measureText(name).width + 4 * scale;
    const end = bbox.left + bbox.width - wide;
    const at = Math.min(right - left > wide + 4 * scale ? Math.max(left, bbox.left) + 2 * scale : right + 2 * scale, end);
    let row = 0;
    while (written.some((own) => own.row === row && own.left < at + wide && own.right > at)) row += 1;
    written.push({ left: at, right: at + wide, row });
    ctx.fillStyle = style.field;
    ctx.globalAlpha = 0.85;
    ctx.fillRect(at, bbox.top + scale + line * row, wide, line);
    ctx.globalAlpha = 1;
    ctx.fillStyle = kind === 'excursion' ? style.attention : style.text;
    ctx.fillText(name, at + 2 * scale, bbox.top + 2 * scale + line * row);
  }
  ctx.restore();
}

/** A pointer on the lower edge where an alarm was raised, and a tick where it was acknowledged. */
export function drawAlarms(plot: uPlot, alarms: readonly DrawnAlarm[], style: MarkStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  const foot = bbox.top + bbox.height;
  ctx.save();
  clipTo(ctx, bbox);
  for (const { at, acknowledged } of alarms) {
    const x = plot.valToPos(at, 'x', true);
    ctx.fillStyle = style.attention;
    ctx.beginPath();
    ctx.moveTo(x, foot - 9 * scale);
    ctx.lineTo(x + 5 * scale, foot);
    ctx.lineTo(x - 5 * scale, foot);
    ctx.fill();
    if (acknowledged === null) continue;
    const seen = plot.valToPos(acknowledged, 'x', true);
    ctx.strokeStyle = style.text;
    ctx.lineWidth = 1.5 * scale;
    ctx.beginPath();
    ctx.moveTo(seen - 4 * scale, foot - 5 * scale);
    ctx.lineTo(seen - scale, foot - 2 * scale);
    ctx.lineTo(seen + 4 * scale, foot - 9 * scale);
    ctx.stroke();
  }
  ctx.restore();
}

function endsOf(plot: uPlot, from: number, to: number, scale: number): readonly [number, number] {
  const left = plot.valToPos(from, 'x', true);
  return [left, Math.max(plot.valToPos(to, 'x', true), left + scale)];
}

function clipTo(ctx: CanvasRenderingContext2D, { left, top, width, height }: uPlot.BBox): void {
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
}

function zoneEnds(ctx: CanvasRenderingContext2D, left: number, right: number, { top, height }: uPlot.BBox, scale: number): void {
  ctx.setLineDash([scale, 3 * scale]);
  ctx.beginPath();
  for (const x of [left, right]) {
    ctx.moveTo(x, top);
    ctx.lineTo(x, top + height);
  }
  ctx.stroke();
}

function fill(ctx: CanvasRenderingContext2D, left: number, right: number, { top, height }: uPlot.BBox, colour: string): void {
  ctx.globalAlpha = 0.12;
  ctx.fillStyle = colour;
  ctx.fillRect(left, top, right - left, height);
  ctx.globalAlpha = 1;
}

/** Strokes that rise to the right (1) or fall (-1). */
function hatch(ctx: CanvasRenderingContext2D, left: number, right: number, { top, height }: uPlot.BBox, way: 1 | -1, step: number, alpha: number): void {
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, right - left, height);
  ctx.clip();
  ctx.setLineDash([]);
  ctx.globalAlpha = alpha;
  ctx.beginPath();
  for (let x = left - height; x < right; x += step) {
    ctx.moveTo(x, way === 1 ? top + height : top);
    ctx.lineTo(x + height, way === 1 ? top : top + height);
  }
  ctx.stroke();
  ctx.restore();
}
