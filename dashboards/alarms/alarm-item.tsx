import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Alarm, AlarmState } from '../../shared/api-types/alarm.js';
import { writeAddress } from '../shared/address.js';
import { alarmSentence, alarmStands, alarmStateWord, priorityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { unitSystem } from '../shared/choices.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { serverNow } from '../shared/now.js';
import { formatAge, formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { AcknowledgeForm } from './acknowledge-form.js';
import { alarmsWords } from './alarms-words.js';
import { runSeams } from './run-seams.js';
import { ShelveForm } from './shelve-form.js';

const stateMarks: Readonly<Record<AlarmState, MarkName>> = { unacknowledged: 'full', acknowledged: 'half', returned: 'empty', shelved: 'square', suppressed: 'square', normal: 'empty' };
const priorityMarks: Readonly<Record<Alarm['priority'], MarkName>> = { high: 'alert', medium: 'warning', low: 'empty' };

/** One alarm: what is wrong in a sentence, how urgent, in which state, and what can be done about it. */
export function AlarmItem({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const [open, setOpen] = useState<'acknowledge' | 'shelve' | null>(null);
  const [said, setSaid] = useState('');
  const item = useRef<HTMLLIElement>(null);
  const done = (words: string): void => {
    setOpen(null);
    setSaid(words);
    // The button may be gone by then.
    item.current?.querySelector<HTMLElement>('h3')?.focus();
  };
  const cancel = (which: 'acknowledge' | 'shelve') => (): void => {
    setOpen(null);
    item.current?.querySelector<HTMLElement>(`button[data-opens=${which}]`)?.focus();
  };
  const toggle = (which: 'acknowledge' | 'shelve') => (): void => {
    setSaid('');
    setOpen(open === which ? null : which);
  };
  const stands = alarmStands(alarm);
  const place = alarm.site === null ? say.service : `${alarm.site}/${alarm.carriage ?? ''}`;
  const sentence = alarmSentence(alarm, alarm.run === null ? null : (runSeams.value.get(alarm.run) ?? null));
  return (
    <li class={`listed-alarm listed-alarm-${alarm.state}`} ref={item}>
      <p class="listed-alarm-marks">
        <span class="listed-alarm-priority">
          <Mark name={priorityMarks[alarm.priority]} /> {capital(say.priority(priorityWord(alarm.priority)))}
        </span>
        <span class="listed-alarm-state">
          <Mark name={stateMarks[alarm.state]} /> {capital(alarmStateWord(alarm.state))}
        </span>
      </p>
      <div class="listed-alarm-text">
        <h3 tabIndex={-1}>
          <span class="listed-alarm-place">{place}</span> {sentence}
        </h3>
        {alarm.response !== null && <p>{say.response(alarm.response)}</p>}
        <p class="aside">
          <Raised alarm={alarm} stands={stands} />{' '}
          {alarm.run !== null && <a href={writeAddress(['run', alarm.run])} aria-label={`${say.run(unitSystem.value === 'us')}, ${sentence}`}>{say.run(unitSystem.value === 'us')}</a>}
        </p>
        {alarm.acknowledgedAt !== null && <p class="aside">{say.acknowledgedBy(alarm.acknowledgedBy ?? '', formatDateTime(alarm.acknowledgedAt))}</p>}
        {alarm.note !== null && <p class="listed-alarm-note">{say.note(alarm.note)}</p>}
        {alarm.shelvedUntil !== null && <p class="aside">{say.shelvedUntil(formatDateTime(alarm.shelvedUntil), alarm.shelvedBy ?? '', alarm.shelvedReason ?? '')}</p>}
        {alarm.withdrawn !== null && <p class="aside">{say.withdrawn(alarm.withdrawn)}</p>}
        {open === 'acknowledge' && <AcknowledgeForm alarm={alarm} onDone={done} onCancel={cancel('acknowledge')} />}
        {open === 'shelve' && <ShelveForm alarm={alarm} onDone={done} onCancel={cancel('shelve')} />}
        <p role="status" class="said">{said}</p>
      </div>
      <p class="listed-alarm-actions">
        {(alarm.state !== 'normal' || alarm.acknowledgedAt !== null) && (
          <button type="button" data-opens="acknowledge" aria-expanded={open === 'acknowledge'} onClick={toggle('acknowledge')}>
            {alarm.acknowledgedAt === null ? say.acknowledge : say.addNote}
            <span class="unseen">: {sentence}</span>
          </button>
        )}
        {alarm.state !== 'normal' && (
          <button type="button" data-opens="shelve" aria-expanded={open === 'shelve'} onClick={toggle('shelve')}>
            {say.shelve}
            <span class="unseen">: {sentence}</span>
          </button>
        )}
      </p>
    </li>
  );
}

/** When it was raised and how long it lasts or lasted; apart, so that only this is drawn as time goes on. */
function Raised({ alarm, stands }: { readonly alarm: Alarm; readonly stands: boolean }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const since = Date.parse(alarm.since);
  const raised = formatDateTime(alarm.raisedAt);
  if (stands) return <>{say.raisedLasts(raised, formatAge(Math.floor((serverNow.value - since) / 1000) * 1000))}</>;
  return <>{say.raisedLasted(raised, formatAge(Date.parse(alarm.returnedAt ?? alarm.raisedAt) - since))}</>;
}
