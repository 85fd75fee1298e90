import type { Run } from '../../shared/api-types/run.js';
import { wordsOf } from '../shared/words.js';
import { runWords } from './run-words.js';

/** Seam, run and attempt in words: what a run is called on every page. */
export function runTitle(run: Pick<Run, 'seam' | 'run' | 'attempt'>): string {
  const say = wordsOf(runWords);
  return run.seam === null || run.run === null ? say.notAssigned : say.title(run.seam, run.run, run.attempt);
}

/** Remarks on a run, in their shortest form. */
export function runRemarks(run: Pick<Run, 'restarts' | 'clock' | 'version' | 'flags'>): string[] {
  const say = wordsOf(runWords);
  const remarks: string[] = [];
  if (run.restarts.length > 0) remarks.push(say.restarts(run.restarts.length));
  if (run.clock === 'stepped') remarks.push(say.clockStepped);
  if (run.version > 1) remarks.push(say.version(run.version));
  return [...remarks, ...run.flags.map((flag) => (flag === 'averageOfAlternating' ? say.averageOfAlternatingShort : flagText(flag)))];
}

/** Why the data of a run is not complete. */
export function whyIncomplete(run: Pick<Run, 'complete' | 'dataGaps' | 'clock'>): string[] {
  const say = wordsOf(runWords);
  if (run.complete) return [];
  const reasons: string[] = [];
  if (run.dataGaps.length > 0) reasons.push(say.gaps(run.dataGaps.length));
  if (run.clock === 'arrival') reasons.push(say.byArrival);
  return reasons.length === 0 ? [say.missing] : reasons;
}

/** A flag in words; a flag that these pages do not know is shown as it is. */
export function flagText(flag: string): string {
  const say = wordsOf(runWords);
  if (flag === 'sharedSeam') return say.sharedSeam();
  return flag === 'travelJump' || flag === 'procedureUnknown' || flag === 'litElsewhere' || flag === 'averageOfAlternating' ? say[flag] : flag;
}
