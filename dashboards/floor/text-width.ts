/** The type size for measuring, px: larger than any drawn text, so that the browser's rounding does not matter. */
const measuredAt = 100;
/** Drawn text may be a little wider than it was measured, as its type is rounded. */
const safety = 1.02;

let pen: CanvasRenderingContext2D | null = null;

/** How wide a text is in the face of the pages, in units of its type; an estimate if nothing can be measured. */
export function textWidth(text: string, bold = false): number {
  if (typeof document === 'undefined') return text.length * 0.6;
  pen ??= document.createElement('canvas').getContext('2d');
  if (pen === null) return text.length * 0.6;
  pen.font = `${bold ? 'bold ' : ''}${measuredAt}px ${getComputedStyle(document.body).fontFamily}`;
  return (pen.measureText(text).width / measuredAt) * safety;
}

/** The largest type, up to `most`, in which a text keeps to that room on one line; all in units of the tile's type. */
export function fitLine(text: string, room: number, most: number, bold = false): number {
  return Math.min(most, room / Math.max(textWidth(text, bold), 0.01));
}

/** The largest type, up to `most`, in which a text fits on one line, or on two if one line would make it much smaller; words seldom fill a line completely. */
export function fitTwoLines(text: string, room: number, most: number): number {
  const filled = 1.7;
  const much = 0.75;
  const line = fitLine(text, room, most);
  return line >= most * much ? line : Math.max(line, Math.min(most * 0.9, (filled * room) / Math.max(textWidth(text), 0.01)));
}
