import { excursionKey, type TrackedExcursion, type Moment } from '../judging/excursion-track.js';
import { seamSuppression } from '../judging/seam-suppression.js';
import { foundExcursions } from '../judging/limit-tracks.js';
import { endedPresent, type LostTo } from '../judging/present.js';
import { completeEnds, mismatchConditions } from './feed-mismatch.js';
import type { RunState } from './run-state.js';

/** A condition that raises an alarm in a run, and its present state. */
export interface AlarmCondition {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly from: Moment;
  /** When its on-delay was over for the first time. */
  readonly raised: Moment;
  readonly to: Moment | null;
  /** Why the condition no longer exists; null while it does. */
  readonly lostTo: LostTo | null;
  /** Whether its cause has an alarm already (while it lasts), or had one to its end. */
  readonly suppressed: boolean;
}

/** Overlap below which length was left unwelded, mm: less is a rounding error. */
const unwelded = -0.05;

/** Every condition of the run so far, in the order in which they were raised. `finished`: none of them lasts any more. */
export function alarmConditions(run: RunState, finished: boolean): AlarmCondition[] {
  const { sums } = run;
  if (sums.present === null) return [];
  const { judge, momentary, lost } = finished ? endedPresent(sums.present, sums) : sums.present;
  const found = judge === null ? [] : foundExcursions(judge);
  const isSuppressed = seamSuppression(judge, sums.parameters.offsets, found);
  const gone = new Map(lost.map((own) => [excursionKey(own.excursion), own]));
  const conditions = found.map((own) => {
    const before = gone.size === 0 ? undefined : gone.get(excursionKey(own));
    if (before !== undefined) gone.delete(excursionKey(own));
    return condition(own, before?.excursion.established ?? own.established, null, isSuppressed(own));
  });
  for (const own of foundExcursions(momentary)) conditions.push(condition(own, own.established, null, false));
  for (const { excursion, to } of gone.values()) conditions.push(condition(excursion, excursion.established, to, false));
  return [...conditions, ...overlapConditions(run, finished), ...mismatchConditions(run, finished)].sort((a, b) => a.raised.time - b.raised.time);
}

/** Increases whenever the list of conditions changes, apart from their worst values and suppression. */
export function conditionsRevision({ restarts, sums }: RunState): number {
  const { present } = sums;
  return present === null ? 0 : (present.judge?.revision ?? 0) + present.momentary.revision + restarts.length + completeEnds(sums);
}

/** The condition last made from each excursion: a run may have thousands, and while an excursion is unchanged its condition is too. */
const known = new WeakMap<TrackedExcursion, AlarmCondition>();

function condition(excursion: TrackedExcursion, raised: Moment, lostTo: LostTo | null, suppressed: boolean): AlarmCondition {
  const before = known.get(excursion);
  if (before?.lostTo === lostTo && before.suppressed === suppressed && before.raised === raised) return before;
  const { arc, quantity, limit, worst, from, to } = excursion;
  const made = { arc, quantity, limit, worst, from, raised, to, lostTo, suppressed };
  known.set(excursion, made);
  return made;
}

/** The conditions for length left unwelded at restarts, which last until the run is over. */
function overlapConditions(run: RunState, finished: boolean): AlarmCondition[] {
  return run.restarts.flatMap((restart) => {
    const worst = restart.stoppedTravelled - restart.restartedTravelled;
    if (worst >= unwelded) return [];
    const from = { time: restart.restartedAt, travelled: restart.stoppedTravelled };
    const to = finished ? { time: run.lastOn, travelled: run.sums.travelled } : null;
    return [{ arc: restart.arc, quantity: 'overlap', limit: 0, worst, from, raised: from, to, lostTo: null, suppressed: false }];
  });
}
