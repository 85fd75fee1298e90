import type { Run } from '../../shared/api-types/run.js';
import { carriageNow } from '../shared/carriages-now.js';
import type { MarkName } from '../shared/mark-name.js';
import { formatDateTime } from '../shared/times.js';
import { runWords } from './run-words.js';
import { windowWords } from './windows/window-words.js';

/** Seam, run and attempt in words: what a run is called on every page. */
export function runTitle(run: Pick<Run, 'seam' | 'run' | 'attempt'>): string {
  const say = runWords();
  return run.seam === null || run.run === null ? say.notAssigned : say.title(run.seam, run.run, run.attempt);
}

/** Remarks on a run, in their shortest form. */
export function runRemarks(run: Pick<Run, 'restarts' | 'clock' | 'version' | 'flags'>): string[] {
  const say = runWords();
  const remarks: string[] = [];
  if (run.restarts.length > 0) remarks.push(say.restarts(run.restarts.length));
  if (run.clock === 'stepped') remarks.push(say.clockStepped);
  if (run.version > 1) remarks.push(say.version(run.version));
  return [...remarks, ...run.flags.map((flag) => (flag === 'averageOfAlternating' ? say.averageOfAlternatingShort : flagText(flag)))];
}

/** Why the data of a run is not complete. */
export function whyIncomplete(run: Pick<Run, 'complete' | 'dataGaps' | 'clock'>): string[] {
  const say = runWords();
  if (run.complete) return [];
  const reasons: string[] = [];
  if (run.dataGaps.length > 0) reasons.push(say.gaps(run.dataGaps.length));
  if (run.clock === 'arrival') reasons.push(say.byArrival);
  return reasons.length === 0 ? [say.missing] : reasons;
}

/** A flag in words; a flag that these pages do not know is shown as it is. */
export function flagText(flag: string): string {
  const say = runWords();
  if (flag === 'sharedSeam') return say.sharedSeam();
  return flag === 'travelJump' || flag === 'procedureUnknown' || flag === 'litElsewhere' || flag === 'averageOfAlternating' ? say[flag] : flag;
}

interface RunStateNow { readonly is: 'welding' | 'notClosed' | 'finished'; readonly mark: MarkName; readonly word: string }

/** What a run does now. The service keeps a run open for a while after its arc went out, as it may be lit again; that does not count as welding. Reads signals. */
export function runStateNow(run: Pick<Run, 'id' | 'state' | 'site' | 'carriage'>): RunStateNow {
  const say = runWords();
  if (run.state === 'finished') return { is: 'finished', mark: 'square', word: say.finished };
  const carriage = carriageNow(`${run.site}/${run.carriage}`);
  if (carriage !== undefined && (!carriage.welding || carriage.run !== run.id)) return { is: 'notClosed', mark: 'half', word: say.notClosed };
  return { is: 'welding', mark: 'full', word: say.welding };
}

/** Why a run was not judged, in words; null if it was. Limits that applied to none of it have judged nothing, as with a run that is only arc start and crater. */
export function notJudgedText({ notJudged, assignment, procedure, lengths }: Pick<Run, 'notJudged' | 'assignment' | 'procedure' | 'lengths'>): string | null {
  const say = runWords();
  switch (notJudged) {
    case null: return lengths !== null && (lengths.inside ?? 0) + (lengths.outside ?? 0) === 0 ? say.whyNothing : null;
    case 'unassigned': return say.whyUnassigned;
    case 'noProcedure': return say.whyNoProcedure;
    case 'procedureUnknown': return say.whyUnknown(assignment?.procedure ?? '');
    case 'noLimits':
      return say.whyNoLimits(procedure === null ? (assignment?.procedure ?? '') : windowWords().revision(procedure.id, procedure.revision));
  }
}

/** Where the data of a run came from, in words. */
export function originText({ origin, carriage }: Pick<Run, 'origin' | 'carriage'>): string {
  const say = runWords();
  return origin.kind === 'live' ? say.recordedLive(carriage) : say.imported(origin.file, origin.by, origin.at === null ? null : formatDateTime(origin.at));
}

/** Which declaration of sensors a run rests on, in words. */
export function sensorsText({ sensors }: Pick<Run, 'sensors'>): string {
  const say = runWords();
  return sensors === null ? say.noSensors : say.sensorsRevision(sensors.revision, sensors.by, formatDateTime(sensors.at));
}

/** A sensor as the service names it (`current arc 1`), in words. */
export function sensorText(sensor: string): string {
  const say = runWords();
  const [, of, arc] = /^(current|voltage) arc (\d+)$/.exec(sensor) ?? [];
  if (of === undefined) return sensor === 'travel' ? say.travelSensor : sensor;
  return of === 'current' ? say.currentOfArc(Number(arc)) : say.voltageOfArc(Number(arc));
}
