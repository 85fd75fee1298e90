import type { SpreadColumn } from '../shared/weld/quantities.js';
import { optionalNames, quantities, spreadNames } from '../shared/weld/quantities.js';
import { recordOf } from '../shared/weld/rows/record-of.js';

/** An item's values of what it does not send. */
export const unsentValues = recordOf(optionalNames, () => null);
/** The same in a row, among figures, and as columns of a trace with `count` places. */
export const unsentColumns = Object.fromEntries(spreadNames.flatMap((name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return [[mean, Number.NaN], [time, 0], [squared, 0], [min, Number.NaN], [max, Number.NaN]];
})) as Record<SpreadColumn, number>;
/** A row whose voltage was not corrected. */
export const uncorrected = { rawVoltage: Number.NaN, rawVoltageSquared: Number.NaN, minRawVoltage: Number.NaN, maxRawVoltage: Number.NaN };
export const unsentFigures = recordOf(spreadNames, () => null);
export const unsentTrace = (count: number) => recordOf(spreadNames, () => Array.from({ length: count }, () => null));
