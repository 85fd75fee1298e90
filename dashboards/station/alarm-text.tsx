import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence, alarmStateWord, priorityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { Mark } from '../shared/mark.js';
import { formatHour } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** What stands, since where on the seam, and what the procedure asks for. */
export function AlarmText({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  const say = wordsOf(stationWords);
  return (
    <div class="alarm-text">
      <p class="alarm-what">
        <Mark name={alarm.state === 'unacknowledged' ? 'alert' : 'warning'} /> {alarmSentence(alarm, null)}
      </p>
      <p class="alarm-response">{alarm.response === null ? <span class="none">{say.noResponse}</span> : say.response(alarm.response)}</p>
      <p class="alarm-aside">
        {say.priority(priorityWord(alarm.priority))} ·{' '}
        {alarm.acknowledgedAt === null ? capital(alarmStateWord(alarm.state)) : say.acknowledgedBy(alarm.acknowledgedBy ?? '', formatHour(alarm.acknowledgedAt))} {alarm.note}
      </p>
    </div>
  );
}
