import type { ArcSums } from './arc-sums.js';

/** `averageOfAlternating`: an arc alternates, and its power was not taken moment by moment. */
export type FigureFlag = 'litElsewhere' | 'averageOfAlternating';

/** The current swings to both sides of zero over most of the arc's time. */
export function alternates({ alternating, on }: ArcSums): boolean {
  return alternating > on / 2;
}

export function figureFlags(litElsewhere: boolean, averageOfAlternating: boolean): FigureFlag[] {
  return [...(litElsewhere ? (['litElsewhere'] as const) : []), ...(averageOfAlternating ? (['averageOfAlternating'] as const) : [])];
}
