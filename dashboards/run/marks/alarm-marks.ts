import type { Alarm } from '../../../shared/api-types/alarm.js';
import type { Run } from '../../../shared/api-types/run.js';
import { alarmSentence, isLasting, priorityWord } from '../../shared/alarm-sentence.js';
import { formatClock } from '../../shared/times.js';
import { alarmRowWords } from '../alarms/alarm-row-words.js';
import { secondsFrom, type Stretch } from '../run-places.js';

/** An alarm of a run where it is seen along it: s from its start, mm. */
export interface AlarmMark {
  readonly alarm: Alarm;
  readonly raised: number;
  readonly place: { readonly travelled: number | null; readonly seamPosition: number | null; readonly degrees?: number | null | undefined };
  readonly acknowledged: number | null;
  readonly stands: boolean;
  /** The alarm in words. */
  readonly text: string;
}

/** The alarms of a run, without those that were withdrawn. */
export function alarmMarks(run: Pick<Run, 'startedAt'>, alarms: readonly Alarm[]): AlarmMark[] {
  return alarms
    .filter(({ withdrawn }) => withdrawn === null)
    .map((alarm) => {
      const { travelled, seamPosition, degrees } = alarm;
      const raised = secondsFrom(run, alarm.raisedAt);
      return { alarm, raised, place: { travelled, seamPosition, ...(degrees == null ? {} : { degrees }) }, acknowledged: acknowledgedAt(raised, alarm), stands: isLasting(alarm), text: alarmLine(alarm) };
    });
}

/** Acknowledging is timed by the service's clock and the run by the carriage's, so the time between raising and acknowledging is taken from the service's alone. */
function acknowledgedAt(raised: number, { acknowledgedAt: at, recordedAt, raisedAt }: Alarm): number | null {
  return at === null ? null : raised + Math.max(0, Date.parse(at) - Date.parse(recordedAt ?? raisedAt)) / 1000;
}

/** An alarm in one line: what, when, how urgent, and who acknowledged it when. */
export function alarmLine(alarm: Alarm): string {
  const say = alarmRowWords();
  return say.line([alarmSentence(alarm, null), say.raised(formatClock(alarm.raisedAt)), say.priority(priorityWord(alarm.priority)), acknowledgedText(alarm)]);
}

export function acknowledgedText({ acknowledgedAt: at, acknowledgedBy }: Alarm): string {
  const say = alarmRowWords();
  return at === null ? say.notAcknowledged : say.acknowledged(formatClock(at), acknowledgedBy ?? '–');
}

/** The stretch from where the excursion began to where the alarm cleared; only the place of the beginning is known. */
export function stretchOfAlarm(run: Pick<Run, 'startedAt'>, { since, returnedAt, travelled, seamPosition, degrees = null }: Alarm): Stretch {
  const from = secondsFrom(run, since);
  return {
    time: [from, returnedAt === null ? from : Math.max(from, secondsFrom(run, returnedAt))],
    travelled: [travelled, travelled],
    seamPosition: [seamPosition, seamPosition],
    ...(degrees === null ? {} : { degrees: [degrees, degrees] as const }),
  };
}
