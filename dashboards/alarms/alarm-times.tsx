import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { arrivedAt } from '../shared/alarm-record.js';
import { isLasting } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { serverNow } from '../shared/now.js';
import { formatAge, formatMoment } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { alarmsWords } from './alarms-words.js';

const minute = 60_000;

/** When the service heard of the alarm, by its own clock: that of a carriage may be wrong. */
export function RaisedAt({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  return <>{formatMoment(arrivedAt(alarm), Math.floor(serverNow.value / minute) * minute)}</>;
}

/** For how long the alarm is or was active; a component of its own, so that only this is redrawn as time goes on. */
export function AlarmLasts({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  const say = wordsOf(alarmsWords);
  if (isLasting(alarm)) return <>{capital(say.activeFor(formatAge(Math.floor((serverNow.value - Date.parse(arrivedAt(alarm))) / 1000) * 1000)))}</>;
  // Both by the clock of the carriage.
  return <>{capital(say.wasActiveFor(formatAge(Date.parse(alarm.returnedAt ?? alarm.raisedAt) - Date.parse(alarm.since))))}</>;
}
