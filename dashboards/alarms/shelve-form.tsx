import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { shelveAlarm } from '../shared/api.js';
import { takeAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { alarmsWords } from './alarms-words.js';
import { fieldAttributes, FormField } from './form-field.js';
import { personName } from '../shared/person-name.js';
import type { ShelveChoice } from './shelve-until.js';
import { nextTimeOfDay, shelveChoices } from './shelve-until.js';

/** Shelves an alarm for a time, with the reason and the name of who does so. */
export function ShelveForm({ alarm, onDone, onCancel }: { readonly alarm: Alarm; readonly onDone: (said: string) => void; readonly onCancel: () => void }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const form = useRef<HTMLFormElement>(null);
  const [choice, setChoice] = useState<ShelveChoice>('10min');
  const [time, setTime] = useState('');
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(0);
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const name = personName.value;
  const labels: Readonly<Record<ShelveChoice, string>> = { '10min': say.minutes(10), '30min': say.minutes(30), '2h': say.hours(2), time: say.untilTime };
  const wrongOf = (is: boolean, words: string): string | null => (tried > 0 && is ? words : null);
  const timeWrong = wrongOf(choice === 'time' && nextTimeOfDay(time, serverNow.peek()) === null, say.timeNeeded);
  const reasonWrong = wrongOf(reason.trim() === '', say.reasonNeeded);
  const nameWrong = wrongOf(name.trim() === '', say.nameNeeded);
  useLayoutEffect(() => {
    // Before anything is drawn: the next key must find it.
    form.current?.querySelector<HTMLElement>(tried === 0 ? 'select' : '[aria-invalid=true]')?.focus();
  }, [tried]);
  const send = async (): Promise<void> => {
    const at = serverNow.peek();
    const length = shelveChoices.find((own) => own.name === choice)?.length ?? null;
    const until = length === null ? nextTimeOfDay(time, at) : Math.round(at + length);
    if (until === null || reason.trim() === '' || name.trim() === '') {
      setTried(tried + 1);
      return;
    }
    if (busy) return;
    setBusy(true);
    const answer = await shelveAlarm(alarm.id, { until, reason: reason.trim(), by: name.trim() });
    setBusy(false);
    if (answer.ok) {
      takeAlarm(answer.value);
      onDone(say.shelvedNow(formatDateTime(answer.value.shelvedUntil)));
    } else setFailure(answer.failure.reason);
  };
  const id = `shelve-${alarm.id}`;
  return (
    <form
      class="desk-form"
      ref={form}
      noValidate
      aria-label={say.shelve}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
      onKeyDown={(event) => { if (event.key === 'Escape') onCancel(); }}
    >
      <FormField label={say.until} id={`${id}-until`} wrong={null}>
        <select value={choice} onChange={(event) => { setChoice(shelveChoices.find((own) => own.name === event.currentTarget.value)?.name ?? '10min'); }} id={`${id}-until`}>
          {shelveChoices.map((own) => (
            <option key={own.name} value={own.name}>
              {labels[own.name]}
            </option>
          ))}
        </select>
      </FormField>
      {choice === 'time' && (
        <FormField label={say.time} id={`${id}-time`} wrong={timeWrong}>
          <input type="text" inputMode="numeric" placeholder="14:30" maxLength={5} autocomplete="off" value={time} onInput={(event) => { setTime(event.currentTarget.value); }} {...fieldAttributes(`${id}-time`, timeWrong)} />
        </FormField>
      )}
      <FormField label={say.reason} id={`${id}-reason`} wrong={reasonWrong}>
        <input type="text" class="long" maxLength={1000} autocomplete="off" value={reason} onInput={(event) => { setReason(event.currentTarget.value); }} {...fieldAttributes(`${id}-reason`, reasonWrong)} />
      </FormField>
      <FormField label={say.name} id={`${id}-name`} wrong={nameWrong}>
        <input type="text" maxLength={100} autocomplete="name" value={name} onInput={(event) => { personName.value = event.currentTarget.value; }} {...fieldAttributes(`${id}-name`, nameWrong)} />
      </FormField>
      <button type="submit" aria-disabled={busy}>{say.shelve}</button>
      <button type="button" onClick={onCancel}>{say.cancel}</button>
      <p class="hint">{say.shelveHint}</p>
      <p role="alert" class="wrong">{failure === null ? '' : say.notTaken(failure)}</p>
    </form>
  );
}
