import { cloneAlarmWatch, endWatch, rowTracks } from './alarm-watch.js';
import type { Excursion, ExcursionTrack, Moment } from './excursion-track.js';
import { heatSuppression } from './heat-suppression.js';
import { foundExcursions } from './run-judge.js';
import type { RunState } from './run-state.js';
import { recordAsItIs } from './run-sums.js';

/** What raises an alarm in a run, and what has become of it. */
export interface AlarmCondition {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly from: Moment;
  /** When its on-delay was over. */
  readonly raised: Moment;
  readonly to: Moment | null;
  /** It turned out to be none: only the crater made it, or an arc that was lit later had not passed there. */
  readonly withdrawn: false | 'crater' | 'unpassed';
  /** Its cause is alarmed already (while it lasts), or was to its end. */
  readonly suppressed: boolean;
}

/** mm of overlap below which length was left unwelded: what computed places leave in their last bits is none. */
const unwelded = -0.05;

/** Every condition of the run so far, in the order in which they were raised. `finished`: nothing of it lasts any more. */
export function alarmConditions(run: RunState, finished: boolean): AlarmCondition[] {
  const { sums } = run;
  if (sums.watch === null) return [];
  let { watch } = sums;
  if (finished) {
    watch = cloneAlarmWatch(watch);
    endWatch(watch, sums, () => recordAsItIs(sums));
  }
  const found = watch.judge === null ? [] : foundExcursions(watch.judge);
  const standing = rowTracks(watch).flatMap((track) => (track.open === null ? [] : [track.open]));
  const isSuppressed = heatSuppression(watch.judge, watch.parameters.offsets, found);
  const own = [...found, ...watch.ended, ...standing];
  return [
    ...own.flatMap((excursion) => condition(excursion, { withdrawn: false, suppressed: isSuppressed(excursion) })),
    ...watch.withdrawn.flatMap((excursion) => condition(excursion, { withdrawn: 'crater', suppressed: false })),
    ...watch.unpassed.flatMap((excursion) => condition(excursion, { withdrawn: 'unpassed', suppressed: false })),
    ...overlapConditions(run, finished),
  ].sort((a, b) => a.raised.time - b.raised.time);
}

/** Changes whenever the list of conditions does, their worst values and suppression aside. */
export function conditionsMark(run: RunState): string {
  const { watch } = run.sums;
  if (watch === null) return '';
  const { judge } = watch;
  const judged = judge === null ? '' : `${judge.excursions.length} ${countOpen(judge.tracks)}`;
  return `${run.ordinal} ${run.finished} ${run.restarts.length} ${watch.withdrawn.length} ${watch.unpassed.length} ${watch.ended.length} ${countOpen(watch.polarities)} ${watch.standing.open !== null} ${judged}`;
}

function countOpen(tracks: readonly ExcursionTrack[]): number {
  let open = 0;
  for (const track of tracks) if (track.open !== null) open += 1;
  return open;
}

/** What was made of an excursion last: a run may have thousands, and as long as nothing is new of one its condition is the same. */
const known = new WeakMap<Excursion, AlarmCondition>();

function condition(excursion: Excursion, { withdrawn, suppressed }: Pick<AlarmCondition, 'withdrawn' | 'suppressed'>): AlarmCondition[] {
  const { arc, quantity, limit, worst, from, established, to } = excursion;
  if (established === null) return [];
  const before = known.get(excursion);
  if (before?.withdrawn === withdrawn && before.suppressed === suppressed) return [before];
  const made = { arc, quantity, limit, worst, from, raised: established, to, withdrawn, suppressed };
  known.set(excursion, made);
  return [made];
}

/** Length that was left unwelded at a restart: so it stays for the run. */
function overlapConditions(run: RunState, finished: boolean): AlarmCondition[] {
  return run.restarts.flatMap((restart) => {
    const worst = restart.stoppedTravelled - restart.restartedTravelled;
    if (worst >= unwelded) return [];
    const from = { time: restart.restartedAt, travelled: restart.stoppedTravelled };
    const to = finished ? { time: run.lastOn, travelled: run.sums.travelled } : null;
    return [{ arc: restart.arc, quantity: 'overlap', limit: 0, worst, from, raised: from, to, withdrawn: false, suppressed: false }];
  });
}
