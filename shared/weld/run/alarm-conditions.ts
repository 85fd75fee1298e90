import { excursionKey, type TrackedExcursion, type Moment } from '../judging/excursion-track.js';
import { heatSuppression } from '../judging/heat-suppression.js';
import { foundExcursions } from '../judging/limit-tracks.js';
import { endedPresent, presentRevision, type LostTo } from '../judging/present.js';
import type { RunState } from './run-state.js';

/** What raises an alarm in a run, and what has become of it. */
export interface AlarmCondition {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly from: Moment;
  /** When its on-delay was over for the first time. */
  readonly raised: Moment;
  readonly to: Moment | null;
  /** Why it is none any more; null while it is one. */
  readonly lostTo: LostTo | null;
  /** Its cause is alarmed already (while it lasts), or was to its end. */
  readonly suppressed: boolean;
}

/** mm of overlap below which length was left unwelded: what computed places leave in their last bits is none. */
const unwelded = -0.05;

/** Every condition of the run so far, in the order in which they were raised. `finished`: nothing of it lasts any more. */
export function alarmConditions(run: RunState, finished: boolean): AlarmCondition[] {
  const { sums } = run;
  if (sums.present === null) return [];
  const { judge, momentary, lost } = finished ? endedPresent(sums.present, sums) : sums.present;
  const found = judge === null ? [] : foundExcursions(judge);
  const isSuppressed = heatSuppression(judge, sums.parameters.offsets, found);
  const gone = new Map(lost.map((own) => [excursionKey(own.excursion), own]));
  const conditions = found.map((own) => {
    const before = gone.size === 0 ? undefined : gone.get(excursionKey(own));
    if (before !== undefined) gone.delete(excursionKey(own));
    return condition(own, before?.excursion.established ?? own.established, null, isSuppressed(own));
  });
  for (const own of foundExcursions(momentary)) conditions.push(condition(own, own.established, null, false));
  for (const { excursion, to } of gone.values()) conditions.push(condition(excursion, excursion.established, to, false));
  return [...conditions, ...overlapConditions(run, finished)].sort((a, b) => a.raised.time - b.raised.time);
}

/** Counts up whenever the list of conditions changes, their worst values and suppression aside. */
export function conditionsRevision({ restarts, sums: { present } }: RunState): number {
  return present === null ? 0 : presentRevision(present) + restarts.length;
}

/** What was made of an excursion last: a run may have thousands, and as long as nothing is new of one its condition is the same. */
const known = new WeakMap<TrackedExcursion, AlarmCondition>();

function condition(excursion: TrackedExcursion, raised: Moment, lostTo: LostTo | null, suppressed: boolean): AlarmCondition {
  const before = known.get(excursion);
  if (before?.lostTo === lostTo && before.suppressed === suppressed && before.raised === raised) return before;
  const { arc, quantity, limit, worst, from, to } = excursion;
  const made = { arc, quantity, limit, worst, from, raised, to, lostTo, suppressed };
  known.set(excursion, made);
  return made;
}

/** Length that was left unwelded at a restart: so it stays for the run. */
function overlapConditions(run: RunState, finished: boolean): AlarmCondition[] {
  return run.restarts.flatMap((restart) => {
    const worst = restart.stoppedTravelled - restart.restartedTravelled;
    if (worst >= unwelded) return [];
    const from = { time: restart.restartedAt, travelled: restart.stoppedTravelled };
    const to = finished ? { time: run.lastOn, travelled: run.sums.travelled } : null;
    return [{ arc: restart.arc, quantity: 'overlap', limit: 0, worst, from, raised: from, to, lostTo: null, suppressed: false }];
  });
}
