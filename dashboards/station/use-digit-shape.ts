import { useMemo } from 'preact/hooks';

/** A digit of the face in use, in units of its type size. */
export interface DigitShape {
  readonly width: number;
  readonly height: number;
}

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
