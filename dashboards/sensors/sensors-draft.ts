import type { SensorsAnswer } from '../../shared/api-types/sensors.js';
import type { ArcSensors, Sensors } from '../../shared/weld/procedure/sensors.js';
import { readNumber } from '../shared/read-number.js';

/** Content of the fields of one arc, as text; a choice that was not made is empty. */
export type ArcDraft = { readonly arc: number } & Readonly<Record<ArcFieldName, string>>;
export const arcFieldNames = ['currentSensor', 'signedCurrent', 'voltagePickup', 'cableResistance', 'signedVoltage', 'serial', 'calibratedAt', 'calibrationDue'] as const;
export type ArcFieldName = (typeof arcFieldNames)[number];
export const carriageFieldNames = ['travelSource', 'travelCalibrationDue', 'plateTemperaturePlace'] as const;
export type CarriageFieldName = (typeof carriageFieldNames)[number];

export interface SensorsDraft {
  readonly carriage: Readonly<Record<CarriageFieldName, string>>;
  readonly arcs: readonly ArcDraft[];
}

/** mΩ; the most that the service accepts. */
export const mostResistance = 1_000;

export type Wrong = 'noNumber' | 'thousands' | 'outOfRange';

/** The fields as they begin: what was declared last, with an entry for each arc that the carriage sends. */
export function draftOf(declared: SensorsAnswer | null, sent: readonly number[]): SensorsDraft {
  const numbers = [...new Set([...(declared?.arcs ?? []).map(({ arc }) => arc), ...sent, ...(declared === null && sent.length === 0 ? [1] : [])])].sort((a, b) => a - b);
  return {
    carriage: { travelSource: declared?.travelSource ?? '', travelCalibrationDue: declared?.travelCalibrationDue ?? '', plateTemperaturePlace: declared?.plateTemperaturePlace ?? '' },
    arcs: numbers.map((arc) => arcDraft(arc, declared?.arcs?.find((own) => own.arc === arc))),
  };
}

export function arcDraft(arc: number, declared?: ArcSensors): ArcDraft {
  const sign = (own: boolean | undefined): string => (own === undefined ? '' : own ? 'yes' : 'no');
  return {
    arc, currentSensor: declared?.currentSensor ?? '', signedCurrent: sign(declared?.signedCurrent), voltagePickup: declared?.voltagePickup ?? '',
    cableResistance: declared?.cableResistance === undefined ? '' : String(declared.cableResistance), signedVoltage: sign(declared?.signedVoltage),
    serial: declared?.serial ?? '', calibratedAt: declared?.calibratedAt ?? '', calibrationDue: declared?.calibrationDue ?? '',
  };
}

/** What is wrong with the cable resistance of an arc; null where nothing is, and where it is not asked for. */
export function wrongOf({ voltagePickup, cableResistance }: ArcDraft): Wrong | null {
  return voltagePickup === 'source' ? wrongResistance(cableResistance) : null;
}

function wrongResistance(text: string): Wrong | null {
  const read = readNumber(text);
  if (read.is === 'empty') return null;
  if (read.is !== 'number') return read.is;
  return read.value >= 0 && read.value <= mostResistance ? null : 'outOfRange';
}

/** The declaration that the fields make; empty fields are left out. */
export function sensorsOf({ carriage, arcs }: SensorsDraft): Sensors {
  return given({
    ...carriage,
    arcs: arcs.map(({ arc, cableResistance, signedCurrent, signedVoltage, ...texts }) => {
      const resistance = readNumber(cableResistance);
      return given({
        arc, ...texts, cableResistance: resistance.is === 'number' && wrongResistance(cableResistance) === null ? resistance.value : '',
        signedCurrent: signedCurrent === '' ? '' : signedCurrent === 'yes', signedVoltage: signedVoltage === '' ? '' : signedVoltage === 'yes',
      });
    }),
  });
}

function given(fields: Readonly<Record<string, unknown>>): object {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== '').map(([name, value]) => [name, typeof value === 'string' ? value.trim() : value]));
}
