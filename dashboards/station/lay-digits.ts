import { useMemo } from 'preact/hooks';

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

/** A digit of the face in use, in units of its type size. */
interface DigitShape { readonly width: number; readonly height: number }

/** Liberation Sans, in case nothing can be measured. */
const usual: DigitShape = { width: 0.556, height: 0.688 };
/** Large, as what browsers measure is rounded to whole px. */
const size = 2000;

/** How wide and high digits are in the page's face at that weight: faces differ by a quarter. */
export function useDigitShape(weight: number): DigitShape {
  return useMemo(() => measured(weight), [weight]);
}

function measured(weight: number): DigitShape {
  const context = document.createElement('canvas').getContext('2d');
  if (context === null) return usual;
  context.font = `${weight} ${size}px ${getComputedStyle(document.body).fontFamily}`;
  const { width, actualBoundingBoxAscent } = context.measureText('8');
  // The ink of 1 is the lowest of them.
  const height = Math.min(actualBoundingBoxAscent, context.measureText('1').actualBoundingBoxAscent);
  return width > 0 && height > 0 ? { width: width / size, height: height / size } : usual;
}
