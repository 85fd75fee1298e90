import type { Absence, Absences } from './absence.js';
import type { ArcSums } from './arc-sums.js';
import { alternates } from '../rows/alternating.js';
import { isSigned } from '../procedure/sensors.js';
import type { RunParameters } from '../procedure/zone.js';

/** An arc on alternating current: A and V as RMS over arc-on time; the share of that time with a current above 0; A; and a ratio. */
export interface AcFigures {
  readonly currentRms: number;
  readonly voltageRms: number;
  readonly balance: number | null;
  readonly currentOffset: number | null;
  readonly powerFactor: number | null;
}

type AcParameters = Pick<RunParameters, 'alternating' | 'sensors'>;

/** Whether an arc counts as one on alternating current: by what was measured in at least half of its time, or by the procedure. */
export function isAc(arc: number, sums: ArcSums, { alternating }: Pick<RunParameters, 'alternating'>): boolean {
  return alternates(sums) || alternating.includes(arc);
}

/** The figures of alternating current; null for direct current. Balance, offset and power factor need every sample with its sign. `tooSlow` says why samples are too far apart for them; null where they are not. */
export function acFigures(arc: number, sums: ArcSums, parameters: AcParameters, tooSlow: Absence | null, reasons: Absences): AcFigures | null {
  if (!isAc(arc, sums, parameters) || !(sums.on > 0)) {
    reasons['ac'] = { code: sums.on > 0 ? 'directCurrent' : 'instant' };
    return null;
  }
  const { on } = sums;
  const currentRms = Math.sqrt(sums.currentSquared / on);
  const voltageRms = Math.sqrt(sums.voltageSquared / on);
  const signed = isSigned(parameters.sensors, arc);
  if (!signed) reasons['energy'] = { code: 'rectified' };
  const why: Absence | null = signed ? tooSlow : { code: 'unsigned' };
  const unknown = Number.isNaN(sums.positiveTime);
  if (why !== null) for (const name of ['balance', 'currentOffset', 'powerFactor']) reasons[`ac.${name}`] = why;
  else if (unknown) reasons['ac.balance'] = { code: 'notNoted' };
  const apparent = voltageRms * currentRms * on;
  return {
    currentRms, voltageRms,
    balance: why === null && !unknown ? sums.positiveTime / on : null,
    currentOffset: why === null ? sums.current / on : null,
    powerFactor: why === null && apparent > 0 ? sums.energy / apparent : null,
  };
}

/**
 * Ripple of a direct current: RMS of its difference from the mean of its 100 ms row, over its mean. What is faster than the samples, or slower than a row, is
 * not in it.
 */
export function rippleOf(arc: number, sums: ArcSums, parameters: AcParameters, tooSlow: Absence | null, reasons: Absences): number | null {
  const why: Absence | null = !(sums.on > 0) ? { code: 'instant' } : isAc(arc, sums, parameters) ? { code: 'alternatingCurrent' } : (tooSlow ?? (sums.current === 0 ? { code: 'noMean' } : null));
  if (why === null) return Math.sqrt(sums.ripple / sums.on) / Math.abs(sums.current / sums.on);
  reasons['ripple'] = why;
  return null;
}
