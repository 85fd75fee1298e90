import { untouched } from '../../../shared/weld/judging/alarm-life.js';
import { countSeq, lastSeq } from '../../../shared/weld/items/seq-marks.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { saveAlarm, newAlarmId } from '../alarms/save-alarm.js';
import type { Carriage } from '../fold/carriage.js';
import { assignmentInForce } from '../fold/in-force.js';

/**
 * From this many sequence numbers of a boot, the share received means something; below this share `seq` is no counter. Common practice, no source.
 */
const enough = 200;
const leastShare = 0.5;

/**
 * Raises `sequence` while the newest boot of a carriage skips most of its numbers: the device sends times as `seq`, or loses most of its
 * measurements. Ends the alarm when that improves.
 */
export function followSequence(carriage: Carriage, deps: FoldDeps): void {
  const { intake, alarms } = carriage;
  const set = intake.boots.get(intake.bootOrder.at(-1) ?? '')?.marks.any;
  if (carriage.kind === 'log' || set === undefined) return;
  const standing = alarms.atHand.find(({ quantity, returnedAt }) => quantity === 'sequence' && returnedAt === null);
  const seen = countSeq(set);
  const share = seen / (lastSeq(set) - set.first + 1);
  const skips = seen >= enough && share < leastShare;
  const now = deps.now();
  if (standing !== undefined && !skips) saveAlarm(carriage, { ...standing, returnedAt: now }, deps);
  if (standing !== undefined || !skips) return;
  const assignment = assignmentInForce(carriage);
  saveAlarm(
    carriage,
    {
      id: newAlarmId(), run: null, seam: assignment?.seam ?? null, runNumber: assignment?.run ?? null, arc: null, quantity: 'sequence', limit: leastShare, worst: share,
      priority: 'medium', response: null, since: now, raisedAt: now, recordedAt: now, travelled: null, seamPosition: null, ...untouched,
    },
    deps,
  );
}
