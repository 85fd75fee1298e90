import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { replay } from '../replay/replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import type { WindowProcedure } from '../model/window-types.js';
import { carriageEvents } from '../replay/carriage-events.js';
import type { CaseFile, Stretch, Wave } from '../replay/case-format.js';
import { caseStart, expandCase } from '../replay/expand-case.js';

type Group = WindowProcedure['runGroups'][number];

export interface WindowCase {
  readonly stretches: readonly Stretch[];
  readonly group: Omit<Group, 'runs'>;
  readonly alarm?: WindowProcedure['alarm'];
  readonly assignment?: Readonly<Record<string, unknown>>;
  readonly lost?: CaseFile['lost'];
}

export interface Steady {
  readonly current?: Wave;
  readonly voltage?: Wave;
  readonly travelSpeed?: Wave;
  /** Current and voltage of a second arc. */
  readonly second?: readonly [Wave, Wave];
}

/** Readings at 10 Hz from `from` up to, not including, `to` (s); 600 A, 31 V, 600 mm/min (10 mm/s, 1 mm a row) unless said. */
export function weld(from: number, to: number, { current = 600, voltage = 31, travelSpeed = 600, second }: Steady = {}): Stretch {
  const arcs = [{ arc: 1, current, voltage }, ...(second === undefined ? [] : [{ arc: 2, current: second[0], voltage: second[1] }])];
  return { from, to: to - 0.1, every: 100, travelSpeed, arcs };
}

/** Readings of 0 A, 0 V and 0 mm/min. */
export const dark = (from: number, to: number, arcs = 1): Stretch =>
  weld(from, to, { current: 0, voltage: 0, travelSpeed: 0, ...(arcs > 1 ? { second: [0, 0] as const } : {}) });

/** The one run of a case: its excursions with times in s from the case's start, and its lengths. */
export function windowRun({ stretches, group, alarm = {}, assignment = {}, lost = [] }: WindowCase) {
  const procedure: WindowProcedure = { id: 'P-1', runGroups: [{ ...group, runs: [1, 9] }], alarm };
  const file: CaseFile = {
    title: '',
    source: '',
    stretches,
    lost,
    assignments: [
      { after: 'start', assignment: { seam: 'S-1', run: 1, procedure: 'P-1', ...assignment } },
      { after: 'end', assignment: null },
    ],
  };
  const start = caseStart(file);
  const runs = replay(carriageEvents(expandCase(file), start), {
    settings: defaultWeldSettings,
    procedures: new Map([['P-1', procedureParameters(procedure, { run: 1 })]]),
  });
  const run = runs[0];
  if (run === undefined || runs.length !== 1) throw new Error(`one run expected, got ${runs.length}`);
  const seconds = (time: string | null): number | null => (time === null ? null : (Date.parse(time) - start) / 1000);
  const excursions = run.excursions.map(({ arc, quantity, limit, worst, fromTime, toTime, fromTravelled, toTravelled, fromSeamPosition, toSeamPosition }) =>
    ({ arc, quantity, limit, worst, from: seconds(fromTime), to: seconds(toTime), fromTravelled, toTravelled, fromSeamPosition, toSeamPosition }));
  const { lengths } = run.figures;
  if (lengths === null) throw new Error('lengths expected');
  return { excursions, lengths };
}
