import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Alarm, AlarmState } from '../../shared/api-types/alarm.js';
import { actionOf } from '../shared/alarm-actions-words.js';
import { alarmSentence, alarmStateWord, isLasting, priorityWord, withdrawnText } from '../shared/alarm-sentence.js';
import { acknowledgeAlarm, shelveAlarm, unshelveAlarm, type Answer } from '../shared/api.js';
import { clockWords } from '../shared/carriage-warnings.js';
import { alarmPlaceAddress } from '../run/run-places.js';
import { arrivedAt } from '../shared/standing-alarms.js';
import { storeAlarm } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { serverNow } from '../shared/now.js';
import { runNumber } from '../shared/common-words.js';
import { sharedWords } from '../shared/shared-words.js';
import { formatAge, formatDateTime, formatMoment } from '../shared/times.js';
import { capital } from '../shared/words.js';
import { AcknowledgeForm } from './acknowledge-form.js';
import { AlarmForm } from './alarm-form.js';
import { alarmsWords } from './alarms-words.js';
import { runSeams } from './run-seams.js';
import { ShelveForm } from './shelve-form.js';

const stateMarks: Readonly<Record<AlarmState, MarkName>> = { unacknowledged: 'full', acknowledged: 'half', returned: 'empty', shelved: 'square', suppressed: 'square', normal: 'empty' };
const priorityMarks: Readonly<Record<Alarm['priority'], MarkName>> = { high: 'alert', medium: 'warning', low: 'empty' };

type Form = 'acknowledge' | 'shelve' | 'unshelve';

/** Whether it is one that many can be acknowledged together with. */
export function isSelectable({ state, acknowledgedAt }: Pick<Alarm, 'state' | 'acknowledgedAt'>): boolean {
  return acknowledgedAt === null && (state === 'unacknowledged' || state === 'returned' || state === 'shelved');
}

/** One alarm in a row: its priority, state, time, place, what is wrong, what people did about it, and what can be done. */
export function AlarmItem({ alarm, selected, onSelect }: { readonly alarm: Alarm; readonly selected: boolean; readonly onSelect: (selected: boolean) => void }): JSX.Element {
  const say = alarmsWords();
  const [open, setOpen] = useState<Form | null>(null);
  const [said, setSaid] = useState('');
  const item = useRef<HTMLLIElement>(null);
  const isAcknowledged = alarm.acknowledgedAt !== null;
  const took = (answer: Answer<Alarm>, words: (alarm: Alarm) => string): string | null => {
    if (!answer.ok) return answer.failure.reason;
    storeAlarm(answer.value);
    setOpen(null);
    setSaid(words(answer.value));
    // The button may be gone by then.
    item.current?.querySelector<HTMLElement>('h3')?.focus();
    return null;
  };
  const cancel = (which: Form) => (): void => {
    setOpen(null);
    item.current?.querySelector<HTMLElement>(`button[data-opens=${which}]`)?.focus();
  };
  const sentence = alarmSentence(alarm, null);
  const button = (which: Form, label: string): JSX.Element => (
    <button
      type="button"
      data-opens={which}
      aria-expanded={open === which}
      onClick={() => {
        setSaid('');
        setOpen(open === which ? null : which);
      }}
    >
      {label}
      <span class="unseen">: {sentence}</span>
    </button>
  );
  return (
    <li class={`listed-alarm listed-alarm-${alarm.state}`} ref={item}>
      {isSelectable(alarm) ? (
        <label class="listed-alarm-select">
          <input type="checkbox" checked={selected} aria-label={say.select(sentence)} onChange={(event) => { onSelect(event.currentTarget.checked); }} />
        </label>
      ) : <span class="listed-alarm-select" />}
      <span class="listed-alarm-priority">
        <Mark name={priorityMarks[alarm.priority]} /> {capital(priorityWord(alarm.priority))}
        <span class="unseen"> {say.priorityLabel}</span>
      </span>
      <span class="listed-alarm-state"><Mark name={stateMarks[alarm.state]} /> {capital(alarmStateWord(alarm.state))}</span>
      <span class="listed-alarm-when"><RaisedAt alarm={alarm} /></span>
      <span class="listed-alarm-place">{alarm.site === null ? say.service : `${alarm.site}/${alarm.carriage ?? ''}`}</span>
      <span class="listed-alarm-run"><RunLink alarm={alarm} /></span>
      <div class="listed-alarm-text">
        <h3 tabIndex={-1}>{sentence}</h3>
        <Details alarm={alarm} />
        {open === 'acknowledge' && (
          <AcknowledgeForm
            id={`acknowledge-${alarm.id}`}
            label={isAcknowledged ? say.addNote : say.acknowledge}
            needsNote={isAcknowledged}
            send={async (signed) => took(await acknowledgeAlarm(alarm.id, signed), () => (isAcknowledged ? say.notedNow : say.acknowledgedNow))}
            onCancel={cancel('acknowledge')}
          />
        )}
        {open === 'shelve' && <ShelveForm id={`shelve-${alarm.id}`} send={async (shelved) => took(await shelveAlarm(alarm.id, shelved), (now) => say.shelvedNow(formatDateTime(now.shelvedUntil)))} onCancel={cancel('shelve')} />}
        {open === 'unshelve' && <AlarmForm id={`unshelve-${alarm.id}`} label={say.unshelve} send={async (by) => took(await unshelveAlarm(alarm.id, by), () => say.unshelvedNow)} onCancel={cancel('unshelve')} />}
        <p role="status" class="said">{said}</p>
      </div>
      <p class="listed-alarm-actions">
        {alarm.state !== 'shelved' && (alarm.state !== 'normal' || isAcknowledged) && button('acknowledge', isAcknowledged ? say.addNote : say.acknowledge)}
        {alarm.state === 'shelved' ? button('unshelve', say.unshelve) : alarm.state !== 'normal' && button('shelve', say.shelve)}
      </p>
    </li>
  );
}

function RunLink({ alarm }: { readonly alarm: Alarm }): JSX.Element | null {
  const seam = alarm.seam ?? (alarm.run === null ? null : (runSeams.value.get(alarm.run) ?? null));
  const text = [seam, alarm.runNumber === null ? null : runNumber(alarm.runNumber)].filter((own) => own !== null).join(' · ');
  if (alarm.run === null) return text === '' ? null : <>{text}</>;
  return <a href={alarmPlaceAddress(alarm.run, alarm)}>{text === '' ? alarmsWords().openRun() : text}</a>;
}

/** What to do while the alarm is active, how long it lasted, and what people did about it. */
function Details({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  const say = alarmsWords();
  const action = actionOf(alarm);
  const withdrawn = withdrawnText(alarm);
  // A person who sees two times side by side must know that one of the clocks is wrong.
  const clock = alarm.recordedAt === null ? null : clockWords({ clockOffset: (Date.parse(alarm.recordedAt) - Date.parse(alarm.raisedAt)) / 1000 });
  const facts = [
    clock,
    alarm.acknowledgedAt === null ? null : say.acknowledgedBy(alarm.acknowledgedBy ?? '', formatDateTime(alarm.acknowledgedAt)),
    alarm.note === null ? null : say.note(alarm.note),
    alarm.shelvedUntil !== null && alarm.state === 'shelved' ? say.shelvedUntil(formatDateTime(alarm.shelvedUntil), alarm.shelvedBy ?? '', alarm.shelvedReason ?? '') : null,
    withdrawn === null ? null : say.withdrawn(withdrawn),
  ].filter((fact) => fact !== null);
  return (
    <>
      {action !== null && <p>{sharedWords().action(action)}</p>}
      <p class="aside"><AlarmLasts alarm={alarm} />{facts.map((fact) => <span key={fact}> · {fact}</span>)}</p>
    </>
  );
}

const minute = 60_000;

/** When the service heard of the alarm, by its own clock: that of a carriage may be wrong. */
function RaisedAt({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  return <>{formatMoment(arrivedAt(alarm), Math.floor(serverNow.value / minute) * minute)}</>;
}

/** For how long the alarm is or was active; a component of its own, so that only this is redrawn as time goes on. */
function AlarmLasts({ alarm }: { readonly alarm: Alarm }): JSX.Element {
  const say = alarmsWords();
  if (isLasting(alarm)) return <>{capital(say.activeFor(formatAge(Math.floor((serverNow.value - Date.parse(arrivedAt(alarm))) / 1000) * 1000)))}</>;
  // Both by the clock of the carriage.
  return <>{capital(say.wasActiveFor(formatAge(Date.parse(alarm.returnedAt ?? alarm.raisedAt) - Date.parse(alarm.since))))}</>;
}
