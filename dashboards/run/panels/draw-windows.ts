import type uPlot from 'uplot';
import { drawnFont, remSize } from './type-scale.js';

/** Limits in the drawing's units; an open end is null. */
export interface DrawnWindow {
  readonly min: number | null;
  readonly max: number | null;
  readonly colour: string;
  readonly dash: readonly number[];
  /** The labels beside them. */
  readonly minText: string;
  readonly maxText: string;
}

interface Label { readonly text: string; readonly line: number; readonly colour: string }

/** The bands within limits, with their limits as lines; drawn along the stretches that are judged (places of the x scale). */
export function drawWindows(plot: uPlot, windows: readonly DrawnWindow[], judged: readonly (readonly [number, number])[], text: string): void {
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
  const labels = windows.flatMap(({ min, max, minText, maxText, colour }): Label[] =>
    ([[max, maxText], [min, minText]] as const).flatMap(([value, own]) => (value === null ? [] : [{ text: own, line: plot.valToPos(value, 'y', true), colour }])),
  );
  writeLimits(plot, labels, text, scale);
}

/** Writes the limits in the margin on the right, where no line passes, each with a stroke that leads to it; limits that lie close together are moved apart. */
function writeLimits(plot: uPlot, labels: readonly Label[], text: string, scale: number): void {
  const { ctx, bbox } = plot;
  const right = bbox.left + bbox.width;
  const within = labels.filter(({ line }) => line >= bbox.top - scale && line <= bbox.top + bbox.height + scale);
  const height = 0.75 * remSize() * scale;
  const places = spreadLabels(within.map(({ line }) => line), height, [bbox.top + height / 2, bbox.top + bbox.height - height / 2]);
  ctx.save();
  ctx.font = drawnFont(0.6875, scale);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.lineWidth = scale;
  within.forEach((own, at) => {
    const y = places[at] ?? own.line;
    ctx.strokeStyle = own.colour;
    ctx.beginPath();
    ctx.moveTo(right, own.line);
    ctx.lineTo(right + 6 * scale, y);
    ctx.stroke();
    ctx.fillStyle = text;
    ctx.fillText(own.text, right + 8 * scale, y);
  });
  ctx.restore();
}

/**
 * The places of labels that should be at the `wanted` places, in the same order: at least `height` apart and between the ends as far as there is room, each as near to its own
 * place as its neighbours allow.
 */
export function spreadLabels(wanted: readonly number[], height: number, [first, last]: readonly [number, number]): number[] {
  const order = wanted.map((_, at) => at).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const places = [...wanted];
  let free = first;
  for (const at of order) free = (places[at] = Math.max(places[at] ?? 0, free)) + height;
  let end = last;
  for (const at of order.toReversed()) end = (places[at] = Math.min(places[at] ?? 0, end)) - height;
  return places;
}
