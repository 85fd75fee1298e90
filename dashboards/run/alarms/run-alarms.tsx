import type { JSX } from 'preact';
import type { Alarm } from '../../../shared/api-types/alarm.js';
import type { Run } from '../../../shared/api-types/run.js';
import { alarmSentence, alarmStands, alarmStateWord, priorityWord } from '../../shared/alarm-sentence.js';
import { Mark } from '../../shared/mark.js';
import { formatClock } from '../../shared/times.js';
import { wordsOf } from '../../shared/words.js';
import { secondsFrom } from '../run-places.js';
import type { Stretch } from '../run-places.js';
import { alarmRowWords } from './alarm-row-words.js';
import { useRunAlarms } from './use-run-alarms.js';

/** The alarms of a run in a row, those raised last first; a press shows one in the traces. */
export function RunAlarmRow({ run, onShow }: { readonly run: Run; readonly onShow: (stretch: Stretch) => void }): JSX.Element {
  const say = wordsOf(alarmRowWords);
  const { items, failure } = useRunAlarms(run.id);
  return (
    <section class="run-alarms" aria-label={say.heading()}>
      <h2>{say.heading()}</h2>
      {failure !== null && <p class="none">{say.failed(failure)}</p>}
      {items === null && failure === null && <p class="none">{say.asking}</p>}
      {items?.length === 0 && <p class="none">{say.none()}</p>}
      {items !== null && items.length > 0 && (
        <ol>
          {items.map((alarm) => <AlarmEntry key={alarm.id} alarm={alarm} run={run} onShow={onShow} />)}
        </ol>
      )}
    </section>
  );
}

function AlarmEntry({ alarm, run, onShow }: { readonly alarm: Alarm; readonly run: Run; readonly onShow: (stretch: Stretch) => void }): JSX.Element {
  const say = wordsOf(alarmRowWords);
  const text = alarmSentence(alarm, null);
  return (
    <li class={alarmStands(alarm) ? 'stands' : undefined}>
      <button type="button" aria-label={say.show(text)} onClick={() => { onShow(stretchOfAlarm(run, alarm)); }}>
        <Mark name={alarmStands(alarm) ? 'warning' : 'empty'} /> <span class="what">{text}</span>
        <span class="unit">
          {formatClock(alarm.raisedAt)} · {say.priority(priorityWord(alarm.priority))} · {alarm.withdrawn === null ? alarmStateWord(alarm.state) : say.withdrawn(alarm.withdrawn)}
        </span>
      </button>
    </li>
  );
}

/** From where the excursion began to where it returned; only the begin's place is known. */
function stretchOfAlarm(run: Run, { since, returnedAt, travelled, seamPosition }: Alarm): Stretch {
  const from = secondsFrom(run, since);
  return {
    time: [from, returnedAt === null ? from : Math.max(from, secondsFrom(run, returnedAt))],
    travelled: [travelled, travelled],
    seamPosition: [seamPosition, seamPosition],
  };
}
