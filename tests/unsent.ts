import { optionalNames, spreadNames } from '../shared/weld/quantities.js';
import { recordOf } from '../shared/weld/record-of.js';
import { noSpreads, spreadColumns } from '../shared/weld/spread-sum.js';

/** An item's values of what it does not send. */
export const unsentValues = recordOf(optionalNames, () => null);
/** The same in a row, among figures, and as columns of a trace with `count` places. */
export const unsentColumns = spreadColumns(noSpreads());
export const unsentFigures = recordOf(spreadNames, () => null);
export const unsentTrace = (count: number) => recordOf(spreadNames, () => Array.from({ length: count }, () => null));
