import type { FigureDefinition, InputDefinition } from './figure-definition.js';
import { figureDefinitions, unitOfFigure } from './figure-definitions.js';
import { absentOf, numbersOf, partOf, pathOf, valueOf, type FigurePlace, type FiguredProcedure, type FiguredRun } from './figured-run.js';
import type { Grade, InputOrigin } from './grades.js';
import { averagingTexts, declaredTravelText, methodNotes, methodTexts, type MethodCode } from './method-texts.js';
import { sourceTexts } from './source-texts.js';

/** An input of a figure in a run. */
export interface FigureInputAnswer {
  readonly name: string;
  readonly value: number | null;
  readonly unit: string;
  readonly from: InputOrigin;
}

/** One figure of a run, and where it comes from. */
export interface FigureAnswer {
  /** Its path in the run, arcs by number. */
  readonly name: string;
  readonly value: number | null;
  readonly unit: string;
  /** null for a sum over samples, and where there is no value. */
  readonly formula: string | null;
  readonly inputs: readonly FigureInputAnswer[];
  readonly method: string;
  readonly source: string;
  readonly grade: Grade;
  /** Why there is no value; null where there is one. */
  readonly absent: string | null;
}

const noReason = 'the record does not say why';

/** Every figure that a run's record has, or for which it says why it is missing, by the definitions. `procedure` is the revision by which it was welded. */
export function runFigureAnswers(run: FiguredRun, procedure: FiguredProcedure | null): FigureAnswer[] {
  return figureDefinitions.flatMap((definition) => placesOf(definition, run, procedure).flatMap((place) => figureAt(definition, place) ?? []));
}

function placesOf({ name }: FigureDefinition, run: FiguredRun, procedure: FiguredProcedure | null): FigurePlace[] {
  const [list = '', rest] = name.split('.N.');
  return (rest === undefined ? [null] : numbersOf(run, list)).map((number) => ({ run, procedure, number }));
}

function figureAt(definition: FigureDefinition, place: FigurePlace): FigureAnswer | null {
  const { run, number } = place;
  const name = pathOf(definition.name, number);
  const part = partOf(run, name);
  const why = part === null || part === undefined ? absentOf(run, name) ?? (part === null ? absentOf(run, definition.absentAs ?? name) : null) : null;
  // What the record neither has nor calls missing is no figure of this run: a run along a plate has no circumference.
  if (typeof part !== 'number' && part !== null && why === null) return null;
  const value = typeof part === 'number' ? part : null;
  const formula = value === null ? null : formulaAt(definition, place);
  return {
    name, value, unit: definition.unit, formula, inputs: inputsAt(definition, place, formula),
    method: methodText(definition.method, run), source: sourceTexts[definition.source], grade: definition.grade, absent: value === null ? (why ?? noReason) : null,
  };
}

function formulaAt({ formula }: FigureDefinition, place: FigurePlace): string | null {
  if (formula === null || typeof formula === 'string') return formula;
  if ('forms' in formula) return formula.choose(place);
  const terms = formula.arcs(place.run).map((arc) => numbered(formula.sum, arc));
  return terms.length === 0 ? '0' : terms.join(' + ');
}

/** A name in a formula that ends in `N` belongs to an arc. */
function numbered(text: string, arc: number): string {
  return text.replaceAll(/\b([A-Za-z]\w*?)N\b/g, `$1${arc}`);
}

/** The inputs that the formula names; all of them where there is no formula. */
function inputsAt({ formula, inputs }: FigureDefinition, place: FigurePlace, text: string | null): FigureInputAnswer[] {
  const arcs = formula !== null && typeof formula !== 'string' && 'sum' in formula ? formula.arcs(place.run) : [];
  const all = arcs.length === 0 ? inputs.map((own) => inputAt(own, place, own.name)) : arcs.flatMap((arc) => inputs.map((own) => inputAt(own, { ...place, number: arc }, numbered(own.name, arc))));
  if (text === null) return all;
  const named = new Set(text.match(/[A-Za-z]\w*/g));
  return all.filter(({ name }) => named.has(name));
}

function inputAt(input: InputDefinition, place: FigurePlace, name: string): FigureInputAnswer {
  if ('find' in input) return { name, unit: input.unit, ...input.find(place) };
  return { name, value: valueOf(place.run, pathOf(input.figure, place.number)), unit: unitOfFigure(input.figure), from: input.from ?? 'computed' };
}

function methodText(code: MethodCode, run: FiguredRun): string {
  const { averaging, declaredTravel } = methodNotes(code, run);
  return [methodTexts[code], ...(averaging === null ? [] : [averagingTexts[averaging]]), ...(declaredTravel ? [declaredTravelText] : [])].join('. ');
}
