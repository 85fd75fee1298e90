/** The entries that can be requested before the arc start, in the order of the work. */
export const preparationEntries = [
  'surfaceCleaned', 'fluxDried', 'fluxTemperature', 'fluxHours', 'fluxLot', 'wireLot', 'polarityChecked', 'electrodeExtension', 'wireDiameter', 'trackParallel', 'preheatMeasured',
] as const;

export type PreparationEntry = (typeof preparationEntries)[number];
