/** `averageOfAlternating`: an arc alternates, and its power was not measured instant by instant. */
export type FigureFlag = 'litElsewhere' | 'averageOfAlternating';

export function figureFlags(litElsewhere: boolean, averageOfAlternating: boolean): FigureFlag[] {
  return [...(litElsewhere ? (['litElsewhere'] as const) : []), ...(averageOfAlternating ? (['averageOfAlternating'] as const) : [])];
}
