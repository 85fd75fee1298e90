import { replay } from './replay.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import type { CarriageEvent } from './replay.js';
import { rowLength } from '../../shared/weld/rows/row.js';
import { plainWindows } from '../model/plain-windows.js';
import type { PlainExcursion, WindowProcedure } from '../model/window-types.js';
import { plainStream } from '../model/zoned-rows.js';
import { canonicalOrder } from './carriage-events.js';
import { namedGroup } from '../named-rows.js';
import type { RunRowGroup } from '../named-rows.js';

type Told = PlainExcursion;

const seconds = (time: number | null, start: number): string => (time === null ? 'open' : ((time - start) / 1_000_000).toFixed(3));
const near = (a: number, b: number, tolerance: number): boolean => Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(a), Math.abs(b));
const nameOf = (one: Told): string => `${one.arc === null ? 'run' : `arc ${one.arc}`} ${one.quantity} ${one.limit}`;
const inOrder = <T extends Told>(all: readonly T[]): T[] => [...all].sort((a, b) => nameOf(a).localeCompare(nameOf(b)) || a.from - b.from);
const show = (one: Told | undefined, start: number): string =>
  one === undefined ? 'none' : `${nameOf(one)} ${seconds(one.from, start)} to ${seconds(one.to, start)} worst ${one.worst}`;

/** Answers give whole ms. */
const sameTime = (a: number | null, b: number | null, tolerance: number): boolean => (a === null || b === null ? a === b : Math.abs(a - b) < tolerance);

/**
 * A row is uneven if the border of a zone cuts it while the speed changes within it, or if a data gap cuts it. There the program, which knows only
 * rows, may be one row (of 100 ms) off, and its worst value is that of one row more or less.
 */
const same = (a: Told, b: Told, uneven: boolean): boolean => {
  const tolerance = uneven ? rowLength + 1000 : 1000;
  return nameOf(a) === nameOf(b) && sameTime(a.from, b.from, tolerance) && sameTime(a.to, b.to, tolerance) && near(a.worst, b.worst, uneven ? unevenWorst(a) : 1e-9);
};

/** The quantities that are judged along the seam, by the heat input at a place. */
export const alongSeam: readonly string[] = ['heatInput', 't85'];
/** How far a worst value may be off where a row is uneven: the cooling time goes with the square of heat input. */
export const unevenWorst = ({ quantity }: { readonly quantity: string }): number => (quantity === 't85' ? 0.1 : 0.05);

/**
 * Whether the rules leave what is judged along the seam of this run open: if the carriage stops under a burning arc, its energy falls on a place without length,
 * and next to a data gap or a turn part of the surroundings is unknown. The cases worked by hand fix what was chosen there; here only the other
 * quantities are compared.
 */
export function heatIsOpen(rows: readonly RunRowGroup[]): boolean {
  const moves = rows.map(({ run }) => Math.sign(run.advance)).filter((sign) => sign !== 0);
  return rows.some(({ run }) => run.gap > 0 || (run.on > 0 && run.advance === 0)) || moves.some((sign) => sign !== moves[0]);
}

export interface WindowComparison {
  readonly found: readonly string[];
  /** The model's excursions, to check that the random runs contain what they should. */
  readonly excursions: readonly PlainExcursion[];
  readonly outside: number;
}

/** The differences between program and model in the excursions and lengths of the runs to which one procedure applies. */
export function compareWindows(events: readonly CarriageEvent[], procedure: WindowProcedure): WindowComparison {
  const { items, assignments } = canonicalOrder(events);
  const stream = plainStream(items, assignments, defaultWeldSettings);
  const runs = replay(events, {
    settings: defaultWeldSettings,
    procedures: new Map([[procedure.id, procedureParameters(procedure, { run: 1 })]]),
  });
  const found: string[] = [];
  const all: PlainExcursion[] = [];
  let outside = 0;
  if (runs.length !== stream.runs.length) found.push(`${runs.length} runs, the model has ${stream.runs.length}`);
  runs.forEach((told, i) => {
    const run = stream.runs[i];
    if (run === undefined || run.assignment === null) return;
    const start = Date.parse(told.figures.startedAt) * 1000;
    const rows = told.rows.map(namedGroup);
    const model = plainWindows(stream, run, procedure, rows, {
      finished: told.figures.endedAt !== null,
      weldHeatInput: told.figures.weldZone.heatInput,
    });
    all.push(...model.excursions);
    const open = procedure.runGroups.some(({ heatInput, t85 }) => heatInput !== undefined || t85 !== undefined) && heatIsOpen(rows);
    const compared = ({ quantity }: { readonly quantity: string }): boolean => !open || !alongSeam.includes(quantity);
    const program = inOrder(
      told.excursions.filter(compared).map(({ arc, quantity, limit, worst, fromTime, toTime }) => ({
        arc,
        quantity,
        limit,
        worst,
        from: Date.parse(fromTime) * 1000,
        to: toTime === null ? null : Date.parse(toTime) * 1000,
      })),
    );
    const cut = rows.some(({ run: row }) => row.gap > 0 && row.gap < rowLength / 1e6 - 1e-9);
    const uneven = model.uneven > 0 || cut;
    const expected = inOrder(model.excursions.filter(compared));
    for (const one of program) if (!expected.some((other) => same(one, other, uneven))) found.push(`run ${i}: only in the program: ${show(one, start)}`);
    for (const one of expected) if (!program.some((other) => same(one, other, uneven))) found.push(`run ${i}: only in the model: ${show(one, start)}`);
    if (program.length !== expected.length) found.push(`run ${i}: ${program.length} excursions, the model has ${expected.length}`);
    const { lengths } = told.figures;
    if (lengths === null || open) return;
    outside += model.lengths.outside;
    const slack = uneven ? model.uneven + Math.max(...rows.map(({ run: row }) => row.length)) : 1e-6;
    for (const name of ['inside', 'outside', 'notProven', 'excluded'] as const)
      if (Math.abs(lengths[name] - model.lengths[name]) > slack) found.push(`run ${i}: ${name} ${lengths[name]}, the model has ${model.lengths[name]}`);
  });
  return { found, excursions: all, outside };
}
