import { panelWords } from './panel-words.js';
import type { LineKind, Measure } from './trace-lines.js';

/** Dashes in CSS px by arc; 0 is the carriage, or all arcs together. Colours come from the theme's --line-N. */
const dashes: Readonly<Record<number, readonly number[]>> = { 0: [], 1: [], 2: [7, 4], 3: [2, 3], 4: [10, 3, 2, 3], 5: [14, 4], 6: [5, 2, 2, 2, 2, 2] };


export function dashOf(arc: number): readonly number[] {
  return dashes[arc] ?? [];
}

/** Name of the theme's colour for an arc's line. */
export function colourOf(arc: number): string {
  return `--line-${arc === 0 ? 5 : arc}`;
}

/** Name of the theme's colour for a line of another run. */
export const otherColour = '--line-6';

export function lineName(measure: Measure, arc: number, kind: LineKind = 'raw'): string {
  const say = panelWords();
  const own = arc !== 0 ? say.arcInText(arc) : measure === 'heatInput' || measure === 't85' ? say.allArcs : say.carriage;
  return kind === 'other' ? say.ofOther(own) : own;
}
