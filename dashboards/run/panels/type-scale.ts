/** CSS px of 1rem: what is drawn on a canvas grows with the reader's type size as everything else does. */
export function remSize(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
}

/** A font of the drawing, `rem` high, in canvas pixels. */
export function drawnFont(rem: number, scale: number, weight = 400): string {
  return `${weight} ${rem * remSize() * scale}px ${getComputedStyle(document.body).fontFamily}`;
}

/** Width of the places beside the vertical axes, rem. */
export const sideRem = 4;

/** Width of the right margin, rem: enough for the last tick, or for the limits of one line or of several arcs. */
export function endRemOf(windows: readonly (readonly unknown[])[]): number {
  const most = Math.max(0, ...windows.map((own) => own.length));
  return most === 0 ? 1.5 : most === 1 ? 4.5 : 6.5;
}

/** Height of a lane of marks above the traces, and of the places below the last one, rem. */
export const laneRem = 1.125;
export const axisRem = 1.5;
