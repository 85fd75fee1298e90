import type { FigurePlace, FiguredRun } from './figured-run.js';
import type { Grade, InputOrigin } from './grades.js';
import type { MethodCode } from './method-texts.js';
import type { SourceCode } from './source-texts.js';

/** A value that goes into a figure. */
export interface FoundInput {
  /** null where it is not known. */
  readonly value: number | null;
  readonly from: InputOrigin;
}

/** An input: its name in the formula, where `N` at the end stands for the number of each arc, and how it is found. */
export type InputDefinition =
  /** A figure of the run, by its name; its unit is that figure's. */
  | { readonly name: string; readonly figure: string; readonly from?: InputOrigin }
  /** A value that was declared, or comes from the procedure or a default. */
  | { readonly name: string; readonly unit: string; readonly find: (place: FigurePlace) => FoundInput };

/**
 * Plain infix of `+ - * / ^ ( )`, numbers, `pi`, `sqrt`, `exp`, `ln`, `abs`, `min`, `max` and names of inputs, in the units of the inputs. `sum` has one
 * term for each of its arcs, with their number for `N`, and is 0 without any. Of several forms `choose` says which one holds for a run. null is a sum over samples.
 */
export type FormulaDefinition =
  | string
  | null
  | { readonly sum: string; readonly arcs: (run: FiguredRun) => readonly number[] }
  | { readonly forms: readonly string[]; readonly choose: (place: FigurePlace) => string | null };

/** One figure of a run: the single source from which API, pages and docs say where it comes from. */
export interface FigureDefinition {
  /** Its path in the run. `N` stands for the number of an arc (`arcs.N.current.mean`), or for a place in a list from 1 on (`restarts.N.overlap`). */
  readonly name: string;
  /** Unit in the API; empty for a ratio or a count. */
  readonly unit: string;
  readonly formula: FormulaDefinition;
  readonly inputs: readonly InputDefinition[];
  readonly method: MethodCode;
  readonly source: SourceCode;
  readonly grade: Grade;
  /** The figure whose reason holds for this one too, where the run does not say why it is missing. */
  readonly absentAs?: string;
}

/** A figure of that name as an input, under that name in the formula. */
export function fromFigure(name: string, figure: string, from?: InputOrigin): InputDefinition {
  return from === undefined ? { name, figure } : { name, figure, from };
}
