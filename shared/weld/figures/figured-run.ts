/** As much of a run's record, as the API gives it, as figures are read from; further figures are found by their path. */
export interface FiguredRun {
  readonly method: 'instantaneous' | 'average';
  readonly assignment: FiguredAssignment | null;
  /** `arcTime` s, `length` mm. */
  readonly arcs: readonly { readonly arc: number; readonly arcTime: number | null; readonly length: number | null }[];
}

/** What a job declares: lengths mm. */
export interface FiguredAssignment {
  readonly run: number;
  readonly side?: number | undefined;
  readonly thickness?: number | undefined;
  readonly diameter?: number | undefined;
  readonly arcs?: readonly { readonly arc: number; readonly wireDiameter?: number | undefined; readonly electrodeExtension?: number | undefined }[] | undefined;
}

/** As much of a procedure's revision as figures depend on. */
export interface FiguredProcedure {
  readonly thermalEfficiency?: number | undefined;
  /** kg of flux per kg of weld metal. */
  readonly fluxRatio?: number | undefined;
  readonly runGroups?: readonly FiguredRunGroup[] | undefined;
}

interface FiguredRunGroup {
  readonly side?: number | undefined;
  readonly runs: readonly number[];
  readonly shapeFactors?: { readonly f2?: number | undefined; readonly f3?: number | undefined } | undefined;
  readonly arcs?: readonly { readonly arc: number; readonly wireDiameter?: number | undefined; readonly wires?: number | undefined; readonly recovery?: number | undefined }[] | undefined;
}

/** A figure within a run: `number` is that of its arc, restart or data gap, null for a figure of the whole run. */
export interface FigurePlace {
  readonly run: FiguredRun;
  /** The revision by which the run was welded; null where there was none. */
  readonly procedure: FiguredProcedure | null;
  readonly number: number | null;
}

/** The path with the number of an arc, restart or data gap in place of `N`. */
export function pathOf(name: string, number: number | null): string {
  return number === null ? name : name.split('.').map((part) => (part === 'N' ? String(number) : part)).join('.');
}

/** What a run has under a path: arcs are found by their number, entries of other lists by their place from 1 on. `undefined` if there is no such part. */
export function partOf(run: FiguredRun, path: string): unknown {
  return stepsTo(run, path).at(-1)?.part;
}

/** The number under a path; null where it is not known or not there. */
export function valueOf(run: FiguredRun, path: string): number | null {
  const value = partOf(run, path);
  return typeof value === 'number' ? value : null;
}

/** The numbers that `N` has in that list of the run. */
export function numbersOf(run: FiguredRun, list: string): number[] {
  const part = partOf(run, list);
  if (!Array.isArray(part)) return [];
  const entries: readonly unknown[] = part;
  return entries.map((own, place) => numberOf(list, own, place));
}

/** Why the value under a path is missing, as the nearest part of the run that knows says; null where none does. */
export function absentOf(run: FiguredRun, path: string): string | null {
  const names = path.split('.');
  for (const { part, depth } of stepsTo(run, path).toReversed()) {
    const absent = isObject(part) ? part['absent'] : undefined;
    if (!isObject(absent)) continue;
    for (let end = names.length; end > depth; end -= 1) {
      const why = absent[names.slice(depth, end).join('.')];
      if (typeof why === 'string') return why;
    }
  }
  return null;
}

interface Step {
  readonly part: unknown;
  /** How many names of the path lead to it. */
  readonly depth: number;
}

/** The run and every part on the way to the end of the path; shorter than the path where a part is missing, with `undefined` as its last. */
function stepsTo(run: FiguredRun, path: string): Step[] {
  const names = path.split('.');
  const steps: Step[] = [{ part: run, depth: 0 }];
  let part: unknown = run;
  for (const [place, name] of names.entries()) {
    part = childOf(part, name, names[place - 1] ?? '');
    steps.push({ part, depth: place + 1 });
    if (part === undefined || part === null) break;
  }
  if (steps.length <= names.length && part !== undefined) steps.push({ part: undefined, depth: names.length });
  return steps;
}

function childOf(part: unknown, name: string, list: string): unknown {
  if (Array.isArray(part)) {
    const entries: readonly unknown[] = part;
    return entries.find((own, place) => String(numberOf(list, own, place)) === name);
  }
  return isObject(part) && Object.hasOwn(part, name) ? part[name] : undefined;
}

/** Restarts name their arc too, but they are counted. */
function numberOf(list: string, entry: unknown, place: number): number {
  const arc = isObject(entry) && /(^|\.)arcs$/.test(list) ? entry['arc'] : undefined;
  return typeof arc === 'number' ? arc : place + 1;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
