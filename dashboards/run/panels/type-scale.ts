/** CSS px of 1rem: what is drawn on a canvas grows with the reader's type size as everything else does. */
export function remSize(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
}

/** A font of the drawing, `rem` high, in canvas pixels. */
export function drawnFont(rem: number, scale: number, weight = 400): string {
  return `${weight} ${rem * remSize() * scale}px ${getComputedStyle(document.body).fontFamily}`;
}

/** Width of the places beside the vertical axes, and free width on the right so that the last tick is not cut, rem. */
export const sideRem = 4;
export const endRem = 1.5;
