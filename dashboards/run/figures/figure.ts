import type { ShownQuantity } from '../../shared/units.js';
import type { Why } from './absent-text.js';

/** An input of a figure: its name, its value as text, and the key of its own figure. */
export interface FigureInput { readonly name: string; readonly text: string; readonly key?: string }

/** Where a figure comes from. */
export interface FigureOrigin { readonly formula: string; readonly inputs: readonly FigureInput[]; readonly source: string }

/** One figure of a run, with its origin. Values in the API's units. */
export interface Figure {
  /** Unique among the figures of a run: `heatInput`, `arc1.current.mean`. */
  readonly key: string;
  readonly label: string;
  /** What the figure belongs to, if its label does not say so: "Current, arc 1". */
  readonly of?: string;
  /** Belongs to the figure above it. */
  readonly part?: boolean;
  readonly quantity: ShownQuantity;
  readonly value: number | null;
  readonly why?: Why | undefined;
  readonly origin: FigureOrigin;
}

export interface FigureGroup { readonly heading: string; readonly figures: readonly Figure[] }
