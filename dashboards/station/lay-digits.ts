import type { DigitShape } from './use-digit-shape.js';

/** 25 mm on a screen of 24 inches, 531 mm wide, as a share of its width. */
const leastHeight = 25 / 531;
/** How many values still fit beside an alarm at that size: those of two arcs. */
const fitting = 6;
/** Width of "2.431" in digits; its unit and the padding, in type sizes of the digits. */
const widest = 4.5;
const beside = 1.15;
/** Label, bar, the last minute and padding above and below the digits, in type sizes of the page; as in quantities.css. */
const around = 5.3;

export interface DigitLayout {
  readonly columns: number;
  /** Type size of the digits, px. */
  readonly digits: number;
}

/** Digits as large as the room allows; of up to two arcs never under 25 mm on 24 inches, unless one value is too wide for it. */
export function layDigits(count: number, shape: DigitShape, width: number, height: number, screenWidth: number, type: number): DigitLayout {
  const choices = Array.from({ length: count }, (_, at) => at + 1).map((columns) => {
    const rows = Math.ceil(count / columns);
    const byWidth = width / columns / (widest * shape.width + beside);
    const byHeight = Math.max(0, height / rows - around * type);
    const least = count <= fitting ? Math.min(byWidth, (screenWidth * leastHeight) / shape.height) : 0;
    return { columns, digits: Math.max(least, Math.min(byWidth, byHeight)), fits: Math.min(byWidth, byHeight), holes: rows * columns - count };
  });
  // If several reach the same size, prefer the one that fits, and then the one without gaps.
  return choices.reduce((best, own) => {
    if (Math.abs(own.digits - best.digits) > 1) return own.digits > best.digits ? own : best;
    return own.fits - own.holes * 20 > best.fits - best.holes * 20 ? own : best;
  });
}
