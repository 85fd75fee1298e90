import type { Assignment } from './assignment.js';
import { judgedArcNames, judgedRunNames, type JudgedArcName, type JudgedRunName } from '../quantities.js';
import { judgingDefaults, type RunWindows, type TemperatureWindows, type Window, type WindowAlarm } from './run-windows.js';
import { runGroupName } from './run-group-name.js';
import { noProcedure, unknownWire, type ArcWire, type ProcedureParameters } from './zone.js';

/** The part of a procedure that the zones, places and heat input of a run depend on. */
export interface ProcedureOutline {
  readonly thermalEfficiency?: number | undefined;
  readonly fluxRatio?: number | undefined;
  readonly runGroups?: readonly RunGroupOutline[] | undefined;
  readonly alarm?:
    | { readonly [Name in keyof typeof judgingDefaults | 'ignitionTime' | 'ignitionLength' | 'craterTime']?: number | undefined } & {
        readonly windows?: Readonly<Record<string, WindowAlarm | undefined>> | undefined;
      }
    | undefined;
}

export interface RunGroupOutline extends Windows<JudgedRunName>, TemperatureWindows {
  readonly name?: string | undefined;
  readonly side?: number | undefined;
  /** First and last run number. */
  readonly runs: readonly number[];
  readonly arcs?: readonly ArcOutline[] | undefined;
  readonly shapeFactors?: { readonly f2?: number | undefined; readonly f3?: number | undefined } | undefined;
}

type Windows<Name extends string> = { readonly [Quantity in Name]?: Window | undefined };

export interface ArcOutline extends Windows<JudgedArcName> {
  readonly arc: number;
  readonly offset?: number | undefined;
  readonly currentType?: string | undefined;
  readonly polarity?: string | undefined;
  readonly wireDiameter?: number | undefined;
  readonly wires?: number | undefined;
  readonly recovery?: number | undefined;
  readonly electrodeExtension?: Window | undefined;
}

/** The first run group whose runs (and side, where both name one) fit. */
export function runGroupOf<T extends RunGroupOutline>(groups: readonly T[] | undefined, assignment: Pick<Assignment, 'run' | 'side'> | null): T | undefined {
  if (assignment === null) return undefined;
  const { run, side } = assignment;
  return groups?.find((group) => {
    const [first = Infinity, last = -Infinity] = group.runs;
    return run >= first && run <= last && (group.side === undefined || side === undefined || group.side === side);
  });
}

/** The parameters of one run of a seam by its procedure; whatever the procedure leaves out is as without a procedure. */
export function procedureParameters(procedure: ProcedureOutline, assignment: Pick<Assignment, 'run' | 'side'> | null): ProcedureParameters {
  const group = runGroupOf(procedure.runGroups, assignment);
  const arcs = group?.arcs ?? [];
  return {
    thermalEfficiency: procedure.thermalEfficiency ?? noProcedure.thermalEfficiency,
    ignitionTime: procedure.alarm?.ignitionTime ?? noProcedure.ignitionTime,
    ignitionLength: procedure.alarm?.ignitionLength ?? noProcedure.ignitionLength,
    craterTime: procedure.alarm?.craterTime ?? noProcedure.craterTime,
    offsets: Object.fromEntries(arcs.map((own) => [own.arc, own.offset ?? 0])),
    wires: Object.fromEntries(arcs.map((own) => [own.arc, wireOf(own)])),
    fluxRatio: procedure.fluxRatio ?? noProcedure.fluxRatio,
    runGroup: group === undefined ? null : runGroupName(procedure.runGroups ?? [], group),
    alternating: arcs.flatMap((own) => (own.currentType === 'AC' ? [own.arc] : [])),
    windows: group === undefined ? null : windowsOf(group, procedure.alarm ?? {}),
    shapeFactors: { f2: group?.shapeFactors?.f2 ?? 1, f3: group?.shapeFactors?.f3 ?? 1 },
    temperatureWindows: defined({ preheat: group?.preheat, interpassTemperature: group?.interpassTemperature }),
  };
}

function wireOf({ wireDiameter, wires, recovery, electrodeExtension }: ArcOutline): ArcWire {
  return { diameter: wireDiameter ?? null, count: wires ?? unknownWire.count, recovery: recovery ?? unknownWire.recovery, extensionWindow: electrodeExtension ?? null };
}

function windowsOf(group: RunGroupOutline, alarm: NonNullable<ProcedureOutline['alarm']>): RunWindows {
  const arcs: Record<number, Partial<Record<JudgedArcName, Window>>> = {};
  for (const own of group.arcs ?? []) arcs[own.arc] = givenOf(own, judgedArcNames);
  const { windows: alarms = {}, ...times } = alarm;
  const judging = { ...judgingDefaults, ...defined(times) };
  const polarity: Record<number, 1 | -1> = {};
  for (const own of group.arcs ?? []) {
    if (own.currentType === 'DC' && (own.polarity === 'EP' || own.polarity === 'EN')) polarity[own.arc] = own.polarity === 'EP' ? 1 : -1;
  }
  return {
    arcs, run: givenOf(group, judgedRunNames), smoothing: judging.smoothing * 1e6, onDelay: judging.onDelay * 1e6, offDelay: judging.offDelay * 1e6,
    deadband: judging.deadband, heatInputLength: judging.heatInputLength, polarity, alarms,
  };
}

/** Those of the named windows that are given. */
function givenOf<Name extends string>(own: Windows<Name>, names: readonly Name[]): Partial<Record<Name, Window>> {
  const given: Partial<Record<Name, Window>> = {};
  for (const name of names) {
    const window = own[name];
    if (window !== undefined) given[name] = window;
  }
  return given;
}

function defined<T extends object>(values: T): Partial<{ [Key in keyof T]: NonNullable<T[Key]> }> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Partial<{ [Key in keyof T]: NonNullable<T[Key]> }>;
}
