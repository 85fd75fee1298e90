import type uPlot from 'uplot';
import type { TraceMark } from './trace-marks.js';

interface MarkStyle {
  readonly line: string;
  readonly text: string;
  readonly font: string;
}

/** Hatches data gaps, frames restarts, and names both. */
export function drawMarks(plot: uPlot, marks: readonly TraceMark[], style: MarkStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.strokeStyle = style.line;
  ctx.fillStyle = style.text;
  ctx.lineWidth = scale;
  ctx.textBaseline = 'bottom';
  ctx.textAlign = 'left';
  ctx.font = style.font.replace('12px', `${11 * scale}px`);
  let row = 0;
  let written = -Infinity;
  for (const { kind, name, from, to } of [...marks].sort((a, b) => a.to - b.to)) {
    const left = plot.valToPos(from, 'x', true);
    const right = Math.max(plot.valToPos(to, 'x', true), left + scale);
    if (right < bbox.left || left > bbox.left + bbox.width) continue;
    if (kind === 'gap') hatch(ctx, left, right, bbox, scale);
    ctx.setLineDash(kind === 'gap' ? [] : [4 * scale, 3 * scale]);
    ctx.strokeRect(left, bbox.top - scale, right - left, bbox.height + 2 * scale);
    // Marks of several arcs may lie on one another; their names stand below each other.
    row = right < written ? row + 1 : 0;
    ctx.fillText(name, right + 4 * scale, bbox.top + bbox.height - (2 + 13 * row) * scale);
    written = right + 4 * scale + ctx.measureText(name).width;
  }
  ctx.restore();
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
