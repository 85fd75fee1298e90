import { alarmState, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { isoTime, tidy } from '../../../shared/weld/run/run-figures.js';

/** An alarm as the API answers it; `now` is µs of the clock. */
export function alarmAnswer(alarm: AlarmFacts, of: { readonly site: string; readonly carriage: string } | null, now: number): Record<string, unknown> {
  return tidy({
    id: alarm.id,
    site: of?.site ?? null,
    carriage: of?.carriage ?? null,
    run: alarm.run,
    seam: alarm.seam,
    runNumber: alarm.runNumber,
    arc: alarm.arc,
    quantity: alarm.quantity,
    limit: alarm.limit,
    worst: alarm.worst,
    priority: alarm.priority,
    response: alarm.response,
    ...(alarm.responses === undefined ? {} : { responses: alarm.responses }),
    state: alarmState(alarm, now),
    since: isoTime(alarm.since),
    raisedAt: isoTime(alarm.raisedAt),
    recordedAt: timeOf(alarm.recordedAt),
    travelled: alarm.travelled,
    seamPosition: alarm.seamPosition,
    degrees: alarm.degrees ?? null,
    seamDegrees: alarm.seamDegrees ?? null,
    acknowledgedAt: timeOf(alarm.acknowledgedAt),
    acknowledgedBy: alarm.acknowledgedBy,
    note: alarm.note,
    returnedAt: timeOf(alarm.returnedAt),
    clearedRecordedAt: timeOf(alarm.clearedRecordedAt),
    shelvedUntil: timeOf(alarm.shelvedUntil),
    shelvedBy: alarm.shelvedBy,
    shelvedReason: alarm.shelvedReason,
    withdrawn: alarm.withdrawn,
    ...(alarm.withdrawn === null || alarm.withdrawnCode == null ? {} : { withdrawnCode: alarm.withdrawnCode }),
  });
}

function timeOf(time: number | null): string | null {
  return time === null ? null : isoTime(time);
}
