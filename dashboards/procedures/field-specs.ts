import { noProcedure } from '../../shared/weld/procedure/zone.js';
import { quantities, type AlarmedName, type ArcLimitName, type RunLimitName } from '../../shared/weld/quantities.js';
import { judgingDefaults } from '../../shared/weld/procedure/run-windows.js';
import { shownAs } from '../shared/alarm-sentence.js';
import type { ShownQuantity } from '../shared/units.js';

/** The ranges for which the procedure is valid; runs are not judged by them. */
export const topRanges = ['thickness', 'outsideDiameter'] as const;

export const generalNames = ['title', 'process', 'weldingPosition', 'qualificationRecord', 'thermalEfficiency'] as const;
export const materialNames = ['parentMaterial', 'parentMaterialGroup', 'jointType', 'jointPreparation', 'backing', 'fluxClassification', 'fluxRatio'] as const;
export const topNames = [...generalNames, ...materialNames] as const;
/** Shape factors of the cooling time t8/5. */
export const shapeNames = ['shapeFactors.f2', 'shapeFactors.f3'] as const;
export const groupNames = ['name', 'side', 'runs[0]', 'runs[1]', ...shapeNames] as const;
export const arcNames = ['arc', 'currentType', 'polarity', 'wireDiameter', 'wireClassification', 'wires', 'recovery', 'offset'] as const;
export const alarmNames = ['smoothing', 'onDelay', 'offDelay', 'deadband', 'heatInputLength', 'ignitionTime', 'ignitionLength', 'craterTime'] as const;

export type WindowName = ArcLimitName | RunLimitName | (typeof topRanges)[number];
export type AlarmName = (typeof alarmNames)[number];

/** The defaults for values that the procedure leaves out, in the API's units; the deadband is a share of the width between the limits. */
export const alarmDefaults: Readonly<Record<AlarmName, number>> = {
  ...judgingDefaults,
  ignitionTime: noProcedure.ignitionTime,
  ignitionLength: noProcedure.ignitionLength,
  craterTime: noProcedure.craterTime,
};

/** How the limits of a quantity are used: along the run, before the arc start, with an alarm as the arc starts, at the end of the run, or not yet at all. */
export function monitoringOf(name: WindowName | AlarmedName): 'along' | 'beforeArc' | 'atArcStart' | 'atEnd' | 'notYet' {
  if (name === 'thickness' || name === 'outsideDiameter') return 'notYet';
  return name === 'meanHeatInput' ? 'atEnd' : quantities[name].limits.used;
}

export interface FieldSpec {
  readonly is: 'text' | 'number';
  /** How the number is measured; null for a plain number. */
  readonly quantity: ShownQuantity | null;
}

/** Shares are given as per cent, as variations are. */
const share: ShownQuantity = 'currentVariation';

const plainNumbers: readonly string[] = ['thermalEfficiency', 'side', 'runs[0]', 'runs[1]', 'arc', 'wires', 'recovery', 'fluxRatio', ...shapeNames];

const measured: Readonly<Record<string, ShownQuantity>> = {
  wireDiameter: 'wireDiameter',
  offset: 'fineLength',
  smoothing: 'time',
  onDelay: 'time',
  offDelay: 'time',
  deadband: share,
  heatInputLength: 'fineLength',
  ignitionTime: 'time',
  ignitionLength: 'fineLength',
  craterTime: 'time',
};

/** How the limits of a quantity, or a range that the procedure covers, are measured. */
export function limitQuantity(name: string): ShownQuantity | null {
  return (topRanges as readonly string[]).includes(name) ? 'fineLength' : shownAs(name);
}

/** What a field accepts, by its name within its part of the form: `title`, `travelSpeed.min`, `alarm.smoothing`. */
export function specOf(name: string): FieldSpec {
  const window = /^([A-Za-z0-9]+)\.(?:min|max)$/.exec(name)?.[1];
  if (window !== undefined) return { is: 'number', quantity: limitQuantity(window) };
  const own = name.replace(/^alarm\./, '');
  const quantity = measured[own];
  if (quantity !== undefined) return { is: 'number', quantity };
  return { is: plainNumbers.includes(own) ? 'number' : 'text', quantity: null };
}

const required = ['id', 'by', 'runs[0]', 'runs[1]', 'arc'];

/** Whether the form cannot be saved without the field. */
export function isRequired(name: string): boolean {
  return required.includes(name);
}

/** The part of a field's whole path that `specOf` knows: `runGroups[0].arcs[1].current.min` is `current.min`. */
export function localName(path: string): string {
  return path.replace(/^runGroups\[\d+\]\./, '').replace(/^arcs\[\d+\]\./, '');
}
