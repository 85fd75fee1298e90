/** Nothing is stored in another way, but an earlier program would not understand a run that a turn has begun, or an assignment that corrects one. */
export const turns: readonly string[] = [];
