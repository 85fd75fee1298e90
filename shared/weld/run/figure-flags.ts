/** `averageOfAlternating`: an arc alternates, and its power was not taken moment by moment. */
export type FigureFlag = 'litElsewhere' | 'averageOfAlternating';

export function figureFlags(litElsewhere: boolean, averageOfAlternating: boolean): FigureFlag[] {
  return [...(litElsewhere ? (['litElsewhere'] as const) : []), ...(averageOfAlternating ? (['averageOfAlternating'] as const) : [])];
}
