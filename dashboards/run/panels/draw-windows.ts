import type uPlot from 'uplot';
import { drawnFont, remSize } from './type-scale.js';

/** A window in the drawing's units; an open end is null. */
export interface DrawnWindow {
  readonly min: number | null;
  readonly max: number | null;
  readonly colour: string;
  readonly dash: readonly number[];
  /** What stands at its limits. */
  readonly minText: string;
  readonly maxText: string;
}

interface WindowStyle {
  readonly text: string;
  readonly field: string;
}

/** The permitted bands, with their limits as lines; drawn along the stretches that are judged (places of the x scale). */
export function drawWindows(plot: uPlot, windows: readonly DrawnWindow[], judged: readonly (readonly [number, number])[], style: WindowStyle): void {
  const { ctx, bbox } = plot;
  const scale = window.devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.lineWidth = scale;
  for (const { min, max, colour, dash } of windows) {
    const top = max === null ? bbox.top : plot.valToPos(max, 'y', true);
    const bottom = min === null ? bbox.top + bbox.height : plot.valToPos(min, 'y', true);
    ctx.fillStyle = ctx.strokeStyle = colour;
    for (const [from, to] of judged) {
      const left = Math.max(bbox.left - scale, plot.valToPos(from, 'x', true));
      const right = Math.min(bbox.left + bbox.width + scale, plot.valToPos(to, 'x', true));
      if (right <= left) continue;
      ctx.globalAlpha = 0.1;
      ctx.fillRect(left, top, right - left, bottom - top);
      ctx.globalAlpha = 1;
      ctx.setLineDash(dash.map((part) => part * scale));
      for (const y of [max === null ? null : top, min === null ? null : bottom]) {
        if (y === null) continue;
        ctx.beginPath();
        ctx.moveTo(left, y);
        ctx.lineTo(right, y);
        ctx.stroke();
      }
    }
  }
  ctx.restore();
  writeLimits(plot, windows, style, scale);
}

/** The limits stand at the right end beside their lines, those of another arc further left, so that none lies on another. */
function writeLimits(plot: uPlot, windows: readonly DrawnWindow[], style: WindowStyle, scale: number): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.font = drawnFont(0.6875, scale);
  ctx.textAlign = 'right';
  ctx.textBaseline = 'middle';
  const height = 0.8125 * remSize() * scale;
  let right = bbox.left + bbox.width - 4 * scale;
  for (const { min, max, minText, maxText } of windows) {
    const widest = Math.max(ctx.measureText(minText).width, ctx.measureText(maxText).width);
    for (const [value, text, side] of [[max, maxText, -1], [min, minText, 1]] as const) {
      if (value === null) continue;
      const line = plot.valToPos(value, 'y', true);
      if (line < bbox.top - scale || line > bbox.top + bbox.height + scale) continue;
      let y = line + (side * height) / 2;
      if (y < bbox.top + height / 2 || y > bbox.top + bbox.height - height / 2) y = line - (side * height) / 2;
      const width = ctx.measureText(text).width;
      ctx.globalAlpha = 0.8;
      ctx.fillStyle = style.field;
      ctx.fillRect(right - width - 2 * scale, y - height / 2, width + 4 * scale, height);
      ctx.globalAlpha = 1;
      ctx.fillStyle = style.text;
      ctx.fillText(text, right, y);
    }
    right -= widest + 12 * scale;
  }
  ctx.restore();
}
