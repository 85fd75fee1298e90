import { replay } from '../../shared/weld/replay.js';
import { procedureParameters } from '../../shared/weld/procedure-parameters.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import type { CarriageEvent } from '../../shared/weld/replay.js';
import { plainWindows } from '../model/plain-windows.js';
import type { PlainExcursion, WindowProcedure } from '../model/window-types.js';
import { plainStream } from '../model/zoned-rows.js';
import { canonicalOrder } from './carriage-events.js';

type Told = PlainExcursion;

const seconds = (time: number | null, start: number): string => (time === null ? 'open' : ((time - start) / 1_000_000).toFixed(3));
const near = (a: number, b: number, tolerance: number): boolean => Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(a), Math.abs(b));
const nameOf = (one: Told): string => `${one.arc === null ? 'run' : `arc ${one.arc}`} ${one.quantity} ${one.limit}`;
const inOrder = <T extends Told>(all: readonly T[]): T[] => [...all].sort((a, b) => nameOf(a).localeCompare(nameOf(b)) || a.from - b.from);
const show = (one: Told | undefined, start: number): string =>
  one === undefined ? 'none' : `${nameOf(one)} ${seconds(one.from, start)} to ${seconds(one.to, start)} worst ${one.worst}`;

/** Answers hold whole ms. */
const sameTime = (a: number | null, b: number | null): boolean => (a === null || b === null ? a === b : Math.abs(a - b) < 1000);

const same = (a: Told, b: Told): boolean =>
  nameOf(a) === nameOf(b) && sameTime(a.from, b.from) && sameTime(a.to, b.to) && near(a.worst, b.worst, 1e-9);

export interface WindowComparison {
  readonly found: readonly string[];
  /** What the model found, to see that the random runs meet what they should. */
  readonly excursions: readonly PlainExcursion[];
  readonly outside: number;
}

/** What differs between program and model in the excursions and lengths of the runs that one procedure applies to. */
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
    const model = plainWindows(stream, run, procedure, told.rows, {
      finished: told.figures.endedAt !== null,
      weldHeatInput: told.figures.weldZone.heatInput,
    });
    all.push(...model.excursions);
    const program = inOrder(
      told.excursions.map(({ arc, quantity, limit, worst, fromTime, toTime }) => ({
        arc,
        quantity,
        limit,
        worst,
        from: Date.parse(fromTime) * 1000,
        to: toTime === null ? null : Date.parse(toTime) * 1000,
      })),
    );
    const expected = inOrder(model.excursions);
    for (const one of program) if (!expected.some((other) => same(one, other))) found.push(`run ${i}: only in the program: ${show(one, start)}`);
    for (const one of expected) if (!program.some((other) => same(one, other))) found.push(`run ${i}: only in the model: ${show(one, start)}`);
    if (program.length !== expected.length) found.push(`run ${i}: ${program.length} excursions, the model has ${expected.length}`);
    const { lengths } = told.figures;
    if (lengths === null) return;
    outside += model.lengths.outside;
    for (const name of ['inside', 'outside', 'notProven', 'excluded'] as const)
      if (Math.abs(lengths[name] - model.lengths[name]) > 1e-6 + model.uneven) found.push(`run ${i}: ${name} ${lengths[name]}, the model has ${model.lengths[name]}`);
  });
  return { found, excursions: all, outside };
}
