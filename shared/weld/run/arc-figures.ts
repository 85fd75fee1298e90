import { toldAbsences, type Absence, type Absences, type ToldAbsences } from './absence.js';
import { acFigures, isAc, rippleOf, type AcFigures } from './ac-figures.js';
import type { ArcSums } from './arc-sums.js';
import { currentDensity } from './electricity.js';
import { electrodeExtension, type ElectrodeExtension } from './electrode-extension.js';
import type { RunSums } from './run-sums.js';
import { unknownWire } from '../procedure/zone.js';
import { spreadNames, type SpreadName } from '../quantities.js';
import { alternates } from '../rows/alternating.js';
import { recordOf } from '../rows/record-of.js';
import { spreadOf } from '../rows/spread-sum.js';
import { standardDeviation } from '../rows/standard-deviation.js';

export interface Spread {
  readonly mean: number;
  readonly min: number;
  readonly max: number;
  /** Standard deviation of the population, weighted by time. */
  readonly standardDeviation: number;
}

/** Figures of one arc: energy kJ, times s, lengths mm, and sent quantities in their unit of the API. */
export interface ArcFigures extends Readonly<Record<SpreadName, Spread | null>>, ToldAbsences {
  readonly arc: number;
  readonly current: (Spread & { readonly rms: number }) | null;
  readonly voltage: ArcFigures['current'];
  readonly energy: number;
  readonly arcTime: number;
  readonly length: number | null;
  readonly samples: number;
  readonly currentVariation: number | null;
  readonly voltageVariation: number | null;
  /** The voltage as it was sent; null where it was not corrected for the cable. */
  readonly voltageRaw: ArcFigures['current'];
  readonly ac: AcFigures | null;
  readonly ripple: number | null;
  readonly extinctions: number | null;
  readonly shortCircuits: number | null;
  readonly currentDensity: number | null;
  readonly extension: ElectrodeExtension;
}

/** The figures of an arc. `moving`: its travel is known. */
export function arcFigures(arc: number, sums: ArcSums, moving: boolean, { parameters, weldEnds }: RunSums): ArcFigures {
  const reasons: Absences = {};
  const timed = sums.on > 0;
  const alternating = alternates(sums);
  const { rms } = sums;
  const electric = (squared: number, [sum, min, max]: readonly [number, number, number]): ArcFigures['current'] =>
    timed ? { ...spread(sums.on, sum, squared, min, max), rms: Math.sqrt(squared / sums.on) } : null;
  const current = electric(sums.currentSquared, alternating ? [rms.current, rms.currentMin, rms.currentMax] : [sums.current, sums.minCurrent, sums.maxCurrent]);
  const voltage = electric(sums.voltageSquared, alternating ? [rms.voltage, rms.voltageMin, rms.voltageMax] : [sums.voltage, sums.minVoltage, sums.maxVoltage]);
  if (!timed) reasons['current'] = reasons['voltage'] = { code: 'instant' };
  const spreads = recordOf(spreadNames, (name) => {
    const { time, sum, squared, min, max } = spreadOf(sums.spreads, name);
    if (time > 0) return spread(time, sum, squared, min, max);
    reasons[name] = { code: 'notSent', quantity: name };
    return null;
  });
  if (!moving) reasons['length'] = { code: 'noTravel' };
  const interval = timed && sums.samples > 0 ? Number(((sums.on / sums.samples) * 1e3).toPrecision(3)) : 0;
  const source = sums.block ? (sums.slow ? 'both' : 'blocks') : 'readings';
  const tooSlow: Absence | null = sums.slow ? { code: 'tooSlow', source, interval } : null;
  if (Number.isNaN(sums.extinctions)) reasons['extinctions'] = { code: 'tooSlow', source, interval };
  if (Number.isNaN(sums.shortCircuits)) reasons['shortCircuits'] = { code: 'tooSlow', source, interval };
  const { raw } = sums;
  const voltageRaw = timed && !Number.isNaN(raw.sum) ? { ...spread(sums.on, raw.sum, raw.squared, raw.min, raw.max), rms: Math.sqrt(raw.squared / sums.on) } : null;
  if (voltageRaw === null) reasons['voltageRaw'] = { code: timed ? 'notCorrected' : 'instant' };
  const currentVariation = current === null ? null : ratio(current.standardDeviation, current.mean);
  const voltageVariation = voltage === null ? null : ratio(voltage.standardDeviation, voltage.mean);
  if (currentVariation === null) reasons['currentVariation'] = { code: 'noMean' };
  if (voltageVariation === null) reasons['voltageVariation'] = { code: 'noMean' };
  const wire = parameters.wires[arc] ?? unknownWire;
  const onAlternating = isAc(arc, sums, parameters);
  return {
    arc, current, voltage, ...spreads, energy: sums.energy / 1e3, arcTime: sums.on, length: moving ? sums.length : null,
    samples: sums.samples, currentVariation, voltageVariation, voltageRaw,
    ac: acFigures(arc, sums, parameters, tooSlow, reasons), ripple: rippleOf(arc, sums, parameters, tooSlow, reasons),
    extinctions: Number.isNaN(sums.extinctions) ? null : sums.extinctions, shortCircuits: Number.isNaN(sums.shortCircuits) ? null : sums.shortCircuits,
    currentDensity: currentDensity(sums, onAlternating, wire, reasons), extension: electrodeExtension(wire, onAlternating, weldEnds[arc], reasons), ...toldAbsences(reasons),
  };
}

/** Mean and standard deviation of the population from integrals over `time`. */
export function spread(time: number, sum: number, squared: number, min: number, max: number): Spread {
  return { mean: sum / time, min, max, standardDeviation: standardDeviation(time, sum, squared) };
}

function ratio(deviation: number, mean: number): number | null {
  return mean === 0 ? null : deviation / Math.abs(mean);
}
