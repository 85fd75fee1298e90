import type { ShownQuantity } from '../../shared/units.js';
import type { Why } from './absent-text.js';

/** One figure of a run as the page names and shows it; where it comes from is asked by its key. Values in the API's units. */
export interface Figure {
  /** Its path in the run, as in the definitions: `heatInput`, `arcs.1.current.mean`. */
  readonly key: string;
  readonly label: string;
  /** What the figure belongs to, if its label does not say so: "Current, arc 1". */
  readonly of?: string;
  /** Belongs to the figure above it. */
  readonly part?: boolean;
  /** Only some arcs have it: it is left out unless one of them does, or lacks it for a reason that is worth a line. */
  readonly ofSome?: boolean;
  readonly quantity: ShownQuantity;
  readonly value: number | null;
  readonly why?: Why | undefined;
}

export interface FigureGroup { readonly heading: string; readonly figures: readonly Figure[] }
