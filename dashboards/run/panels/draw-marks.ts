import type uPlot from 'uplot';
import { drawnFont, remSize } from './type-scale.js';

/** A mark as one trace shows it: places of the x scale. */
export interface DrawnMark {
  readonly kind: 'zone' | 'restart' | 'gap' | 'excursion';
  readonly code: string;
  readonly from: number;
  readonly to: number;
  /** The one that was stepped to. */
  readonly chosen: boolean;
}

interface MarkStyle {
  readonly line: string;
  readonly text: string;
  readonly attention: string;
}

/** Dots where zones end, hatches data gaps, frames restarts, fills excursions, and names all but the zones. */
export function drawMarks(plot: uPlot, marks: readonly DrawnMark[], style: MarkStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.lineWidth = scale;
  ctx.textBaseline = 'top';
  ctx.textAlign = 'left';
  ctx.font = drawnFont(0.6875, scale, 600);
  const line = 0.75 * remSize() * scale;
  let row = 0;
  let written = -Infinity;
  for (const { kind, code, from, to, chosen } of marks) {
    const left = plot.valToPos(from, 'x', true);
    const right = Math.max(plot.valToPos(to, 'x', true), left + scale);
    if (right < bbox.left || left > bbox.left + bbox.width) continue;
    ctx.strokeStyle = kind === 'excursion' ? style.attention : style.line;
    if (kind === 'zone') {
      zoneEnds(ctx, left, right, bbox, scale);
    } else {
      if (kind === 'gap') hatch(ctx, left, right, bbox, scale);
      if (kind === 'excursion') fill(ctx, left, right, bbox, style.attention);
      ctx.setLineDash(kind === 'restart' ? [4 * scale, 3 * scale] : []);
      ctx.strokeRect(left, bbox.top - scale, right - left, bbox.height + 2 * scale);
      // Marks may lie close to one another; their names stand below each other then.
      const wide = ctx.measureText(code).width;
      const at = (right - left > wide + 6 * scale ? Math.max(left, bbox.left) : right) + 3 * scale;
      row = at < written ? row + 1 : 0;
      ctx.fillStyle = kind === 'excursion' ? style.attention : style.text;
      ctx.fillText(code, at, bbox.top + 2 * scale + line * row);
      written = at + wide + 3 * scale;
    }
    if (chosen) {
      ctx.setLineDash([]);
      ctx.fillStyle = style.text;
      ctx.fillRect(left, bbox.top, right - left, 3 * scale);
    }
  }
  ctx.restore();
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
  ctx.globalAlpha = 0.18;
  ctx.fillStyle = colour;
  ctx.fillRect(left, top, right - left, height);
  ctx.globalAlpha = 1;
}

function hatch(ctx: CanvasRenderingContext2D, left: number, right: number, { top, height }: uPlot.BBox, scale: number): void {
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, right - left, height);
  ctx.clip();
  ctx.setLineDash([]);
  ctx.globalAlpha = 0.5;
  ctx.beginPath();
  for (let x = left - height; x < right; x += 8 * scale) {
    ctx.moveTo(x, top + height);
    ctx.lineTo(x + height, top);
  }
  ctx.stroke();
  ctx.restore();
}
