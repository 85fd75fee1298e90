import type { ComponentChildren, JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { actionOf } from '../shared/alarm-actions-words.js';
import { alarmSentence, alarmStateWord, priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { Mark } from '../shared/mark.js';
import { sharedWords } from '../shared/shared-words.js';
import { byArrival, clearedElsewhere, clearedOfRun, isActive, shelvedAlarms } from '../shared/standing-alarms.js';
import { formatHour } from '../shared/times.js';
import { capital } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** The alarm that counts most, in one place of one height: what is wrong, from where on, and what to do. Nothing in it is of another run. */
export function AlarmPanel({ carriage, alarm, verdict, failure, children }: { readonly carriage: Carriage; readonly alarm: Alarm | null; readonly verdict: CarriageVerdict; readonly failure: string | null; readonly children?: ComponentChildren }): JSX.Element {
  const say = stationWords();
  const stands = alarm !== null && isActive(alarm);
  return (
    <section class={stands ? `alarm-panel alarm-stands alarm-${alarm.state}` : 'alarm-panel'} aria-label={say.alarms}>
      <div class="alarm-text">
        {alarm === null ? <p class="alarm-none">{say.noAlarm}</p> : <AlarmText alarm={alarm} carriage={carriage} age={verdict.verdict === 'silent' ? verdict.state.age : null} />}
        {children}
      </div>
      <p class="alarm-failed" role="alert">{failure !== null && say.notSavedTryAgain(failure)}</p>
    </section>
  );
}

function AlarmText({ alarm, carriage, age }: { readonly alarm: Alarm; readonly carriage: Carriage; readonly age: number | null }): JSX.Element {
  const say = stationWords();
  const action = actionOf(alarm);
  return (
    <>
      <p class="alarm-what"><Mark name={alarm.state === 'unacknowledged' ? 'alert' : 'warning'} /> {alarmSentence(alarm, null, age)}</p>
      <p class="alarm-response">{action === null ? quietWords(alarm, carriage) : sharedWords().action(action)}</p>
      <p class="alarm-aside">
        {say.priority(priorityWord(alarm.priority))} ·{' '}
        {alarm.acknowledgedAt === null ? capital(alarmStateWord(alarm.state)) : say.acknowledgedBy(alarm.acknowledgedBy ?? '', formatHour(alarm.acknowledgedAt))} {alarm.note}
      </p>
    </>
  );
}

/** Why something is wrong and no alarm asks for anything. */
function quietWords(alarm: Alarm, { alarms }: Carriage): string {
  const say = stationWords();
  if (alarm.state === 'shelved') return say.shelvedUntil(formatHour(alarm.shelvedUntil), alarm.shelvedReason ?? '');
  if (alarm.state !== 'suppressed') return '';
  const causes = alarms.filter((own) => ['current', 'voltage', 'travelSpeed'].includes(own.quantity) && own.run === alarm.run).sort(byArrival);
  const cause = causes.find(({ returnedAt }) => returnedAt === null) ?? causes[0];
  return cause === undefined ? say.followsFromOther : say.followsFrom(quantityWord(cause.quantity));
}

/** "17 cleared alarms from earlier runs · 1 shelved: voltage, until 22:35": one line that nobody mistakes for an alarm. `hidden` is how many shelved alarms are shown above it. */
export function QuietLine({ carriage, hidden }: { readonly carriage: Carriage; readonly hidden: number }): JSX.Element | null {
  const say = stationWords();
  const ofRun = clearedOfRun(carriage).count;
  const elsewhere = clearedElsewhere(carriage).count;
  const shelved = shelvedAlarms(carriage);
  const parts = [
    ...(ofRun > 0 ? [say.clearedOfRun(ofRun)] : []),
    ...(elsewhere > 0 ? [say.clearedElsewhere(elsewhere)] : []),
    ...(shelved.count > hidden ? [say.shelvedCount(shelved.count, shelved.alarms.map((own) => say.shelvedOf(quantityWord(own.quantity), formatHour(own.shelvedUntil))))] : []),
  ];
  return parts.length === 0 ? null : <p class="alarm-quiet">{parts.join(' · ')}</p>;
}
