import type { Run } from '../../shared/api-types/run.js';
import { counted } from '../shared/format.js';

/** Seam, run and attempt in words: what a run is called on every page. */
export function runTitle(run: Pick<Run, 'seam' | 'run' | 'attempt'>): string {
  if (run.seam === null || run.run === null) return 'Not assigned';
  return `${run.seam}, run ${run.run}${run.attempt > 1 ? `, attempt ${run.attempt}` : ''}`;
}

const flagWords: Readonly<Record<string, string>> = {
  sharedSeam: 'another carriage has the same seam and run',
  travelJump: 'the travel signal jumped',
  procedureUnknown: 'its procedure does not exist',
};

/** What else is to be known of a run, shortest form. */
export function runRemarks(run: Run): string[] {
  const remarks: string[] = [];
  if (run.restarts.length > 0) remarks.push(counted(run.restarts.length, 'restart'));
  if (run.dataGaps.length > 0) remarks.push(counted(run.dataGaps.length, 'data gap'));
  if (!run.complete && run.dataGaps.length === 0) remarks.push('data incomplete');
  if (run.clock === 'stepped') remarks.push('clock stepped');
  if (run.version > 1) remarks.push(`version ${run.version}`);
  return [...remarks, ...run.flags.map(flagText)];
}

/** A flag in words; one that this page does not know yet stands as it is. */
export function flagText(flag: string): string {
  return flagWords[flag] ?? flag;
}

export const methodWords: Readonly<Record<Run['method'], string>> = {
  instantaneous: 'instantaneous values: current times voltage, sample by sample, every sample from blocks of at most 1 ms',
  average: 'average values: current times voltage, reading by reading; right for a steady DC arc, not for a pulsed or alternating one',
};

export const clockWords: Readonly<Record<Run['clock'], string>> = {
  steady: 'steady',
  stepped: 'stepped: the carriage’s clock went back, the steps are taken out',
  arrival: 'by arrival: the carriage sent no times, so the run is not complete',
};

export const identityWords: Readonly<Record<Run['identity'], string>> = {
  full: 'boot and sequence number',
  time: 'time only: of two readings at one time the first counts',
  none: 'none: a repeated message counts twice',
};
