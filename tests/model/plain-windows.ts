import { arcSeries, speedSeries } from './judged-series.js';
import { findExcursions } from './find-excursions.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { arcsOf, coolingSeries, heatSeries, missingArcs } from './heat-series.js';
import type { PlainProcedure, PlainRun } from './plain-types.js';
import type { RunParts } from './split-runs.js';
import { sum } from './weighted.js';
import { arcWindowNames, type Judged, type PlainExcursion, type PlainWindow, type WindowProcedure, type ZonedRow } from './window-types.js';
import { zonedRows, type PlainStream } from './zoned-rows.js';
import type { RunRowGroup } from '../named-rows.js';

type RunGroup = WindowProcedure['runGroups'][number];

/** The first run group that covers the run, and its side if both name one. */
export function groupFor<Group extends Pick<RunGroup, 'runs' | 'side'>>(procedure: { readonly runGroups: readonly Group[] }, run: number, side?: number): Group | undefined {
  return procedure.runGroups.find(
    (group) => group.runs[0] <= run && run <= group.runs[1] && (group.side === undefined || side === undefined || group.side === side),
  );
}

/** The part of a procedure that the rest of the model needs. */
export function zoneProcedure(procedure: WindowProcedure, group: RunGroup | undefined): PlainProcedure {
  return {
    thermalEfficiency: procedure.thermalEfficiency ?? 1,
    ignitionTime: procedure.alarm?.ignitionTime ?? 2,
    ignitionLength: procedure.alarm?.ignitionLength ?? 15,
    craterTime: procedure.alarm?.craterTime ?? 2,
    offsets: new Map((group?.arcs ?? []).map(({ arc, offset }) => [arc, offset ?? 0])),
    alternating: new Set((group?.arcs ?? []).filter(({ currentType }) => currentType === 'AC').map(({ arc }) => arc)),
    shape: { f2: 1, f3: 1, ...group?.shapeFactors },
    wires: new Map((group?.arcs ?? []).map((own) => [own.arc, { diameter: own.wireDiameter ?? null, count: own.wires ?? 1, recovery: own.recovery ?? 1, extension: own.electrodeExtension ?? null }])),
    fluxRatio: procedure.fluxRatio ?? 1,
  };
}

const isOutside = (value: number, { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY }: PlainWindow): boolean => value < min || value > max;

interface Series {
  readonly arc: number | null;
  readonly quantity: string;
  readonly window: PlainWindow;
  readonly values: readonly Judged[];
  /** Rows that should have had a value. */
  readonly due: (row: ZonedRow) => boolean;
}

function allSeries(rows: readonly ZonedRow[], procedure: WindowProcedure, group: RunGroup, assignment: Assignment | null): Series[] {
  const { smoothing = 1, heatInputLength = 50 } = procedure.alarm ?? {};
  const arcs = (group.arcs ?? []).flatMap((own) =>
    arcWindowNames.flatMap((quantity) => {
      const window = own[quantity];
      if (window === undefined) return [];
      const due = (row: ZonedRow): boolean => row.run.weld && row.arcs.get(own.arc)?.weld === true && (row.group.arcs.find(({ arc }) => arc === own.arc)?.row.on ?? 0) > 0;
      return [{ arc: own.arc, quantity, window, values: arcSeries(rows, own.arc, quantity, smoothing), due }];
    }),
  );
  const due = (row: ZonedRow): boolean => row.run.weld && row.group.run.on > 0;
  const { offsets, thermalEfficiency, shape } = zoneProcedure(procedure, group);
  const { travelSpeed, heatInput, t85 } = group;
  const heat = heatInput === undefined && t85 === undefined ? [] : heatSeries(rows, offsets, heatInputLength, thermalEfficiency, arcsOf(rows));
  return [
    ...arcs,
    ...(travelSpeed === undefined ? [] : [{ arc: null, quantity: 'travelSpeed', window: travelSpeed, values: speedSeries(rows, smoothing), due }]),
    ...(heatInput === undefined ? [] : [{ arc: null, quantity: 'heatInput', window: heatInput, values: heat, due }]),
    ...(t85 === undefined ? [] : [{ arc: null, quantity: 't85', window: t85, values: coolingSeries(heat, assignment, shape), due }]),
  ];
}

function meanHeat(rows: readonly ZonedRow[], heat: number | null, window: PlainWindow | undefined): PlainExcursion[] {
  const weld = rows.filter((row) => row.run.someWeld && row.group.run.on > 0);
  const first = weld[0];
  const last = weld.at(-1);
  if (window === undefined || heat === null || first === undefined || last === undefined || !isOutside(heat, window)) return [];
  const limit = heat > (window.max ?? Number.POSITIVE_INFINITY) ? window.max : window.min;
  return [{ arc: null, quantity: 'meanHeatInput', limit: limit ?? Number.NaN, worst: heat, from: first.start + first.group.run.from, to: last.start + 100_000 }];
}

/** Excursions and lengths of a run, computed value by value from its rows and the rules (section 6). */
export function plainWindows(
  stream: PlainStream,
  run: RunParts,
  procedure: WindowProcedure,
  rows: readonly RunRowGroup[],
  { finished, weldHeatInput }: { readonly finished: boolean; readonly weldHeatInput: number | null },
): { excursions: PlainExcursion[]; lengths: NonNullable<PlainRun['lengths']>; uneven: number } {
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const zoned = zonedRows(stream, run, zoneProcedure(procedure, group), rows);
  const series = group === undefined ? [] : allSeries(zoned, procedure, group, run.assignment);
  const { onDelay = 1, offDelay = 3, deadband = 0.05 } = procedure.alarm ?? {};
  const excursions = series.flatMap(({ arc, quantity, window, values }) => {
    const burnOf = ({ row }: { readonly row: ZonedRow }): number => (arc === null ? row.run.burn : (row.arcs.get(arc)?.burn ?? -1));
    const own = run.burns.filter((burn) => arc === null || burn.arc === arc);
    const burning = finished || own.every((burn) => burn.out) ? -1 : Math.max(...zoned.map((row) => burnOf({ row })));
    return findExcursions(values, window, { onDelay, offDelay, deadband }, burnOf, burning).map(({ limit, worst, from, to }) => ({ arc, quantity, limit, worst, from, to }));
  });
  const missing = group?.heatInput === undefined && group?.t85 === undefined ? [] : missingArcs(zoned, zoneProcedure(procedure, group).offsets, arcsOf(zoned));
  const lengths = { inside: 0, outside: 0, notProven: 0, excluded: 0 };
  for (const [i, row] of zoned.entries()) {
    // With several arcs, a row that one of them did not pass does not count as weld.
    const unpassed = (missing[i] ?? []).length > 0;
    const outside = series.some(({ values, window }) => values.some((value) => value.row === row && isOutside(value.value, window)));
    const unsent = series.some(({ values, due }) => due(row) && !values.some((value) => value.row === row));
    lengths.notProven += row.gapLength;
    lengths.excluded += row.excludedLength;
    lengths[unpassed ? 'excluded' : outside ? 'outside' : unsent ? 'notProven' : 'inside'] += row.weldLength;
  }
  return { excursions: [...excursions, ...meanHeat(zoned, finished ? weldHeatInput : null, group?.heatInput)], lengths, uneven: sum(zoned.map((row) => row.uneven)) };
}
