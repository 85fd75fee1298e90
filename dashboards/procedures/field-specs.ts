import { noProcedure } from '../../shared/weld/zone.js';
import { judgingDefaults } from '../../shared/weld/run-windows.js';
import { shownAs } from '../shared/alarm-sentence.js';
import type { ShownQuantity } from '../shared/units.js';

export const arcWindows = ['current', 'voltage', 'wireFeedSpeed', 'electrodeExtension', 'currentVariation', 'voltageVariation'] as const;
export const groupWindows = ['travelSpeed', 'heatInput', 't85', 'preheat', 'interpassTemperature'] as const;
/** What a priority and a response can be given for. */
export const alarmedWindows = ['current', 'voltage', 'wireFeedSpeed', 'electrodeExtension', 'currentVariation', 'voltageVariation', 'travelSpeed', 'heatInput', 'meanHeatInput', 't85', 'preheat', 'interpassTemperature'] as const;

export const topNames = ['title', 'process', 'thermalEfficiency', 'qualificationRecord', 'weldingPosition'] as const;
export const groupNames = ['name', 'side', 'runs[0]', 'runs[1]'] as const;
export const arcNames = ['arc', 'currentType', 'polarity', 'wireDiameter', 'wires', 'offset'] as const;
export const alarmNames = ['smoothing', 'onDelay', 'offDelay', 'deadband', 'heatInputLength', 'ignitionTime', 'ignitionLength', 'craterTime'] as const;

export type WindowName = (typeof arcWindows)[number] | (typeof groupWindows)[number];
export type AlarmName = (typeof alarmNames)[number];

/** What holds where the procedure leaves a value out, in the API's units; the deadband is a share of the window's width. */
export const alarmDefaults: Readonly<Record<AlarmName, number>> = {
  ...judgingDefaults,
  ignitionTime: noProcedure.ignitionTime,
  ignitionLength: noProcedure.ignitionLength,
  craterTime: noProcedure.craterTime,
};

export interface FieldSpec {
  readonly is: 'text' | 'number';
  /** How the number is measured; null for a plain number. */
  readonly quantity: ShownQuantity | null;
}

/** Shares are given as per cent, as variations are. */
const share: ShownQuantity = 'currentVariation';

const plainNumbers = ['thermalEfficiency', 'side', 'runs[0]', 'runs[1]', 'arc', 'wires'];

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

/** What a field takes, by its name within its part of the form: `title`, `travelSpeed.min`, `alarm.smoothing`. */
export function specOf(name: string): FieldSpec {
  const window = /^([A-Za-z0-9]+)\.(?:min|max)$/.exec(name)?.[1];
  if (window !== undefined) return { is: 'number', quantity: shownAs(window) };
  const own = name.replace(/^alarm\./, '');
  const quantity = measured[own];
  if (quantity !== undefined) return { is: 'number', quantity };
  return { is: plainNumbers.includes(own) ? 'number' : 'text', quantity: null };
}

/** The part of a field's whole path that `specOf` knows: `runGroups[0].arcs[1].current.min` is `current.min`. */
export function localName(path: string): string {
  return path.replace(/^runGroups\[\d+\]\./, '').replace(/^arcs\[\d+\]\./, '');
}
