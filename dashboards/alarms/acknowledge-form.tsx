import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { acknowledgeAlarm } from '../shared/api.js';
import { takeAlarm } from '../shared/live-feed.js';
import { wordsOf } from '../shared/words.js';
import { alarmsWords } from './alarms-words.js';
import { fieldAttributes, FormField } from './form-field.js';
import { personName } from '../shared/person-name.js';

const longestName = 100;
const longestNote = 1000;

/** Acknowledges an alarm with a name and, where there is one, a note; what is acknowledged already gets the note alone. */
export function AcknowledgeForm({ alarm, onDone, onCancel }: { readonly alarm: Alarm; readonly onDone: (said: string) => void; readonly onCancel: () => void }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const form = useRef<HTMLFormElement>(null);
  const [note, setNote] = useState('');
  const [tried, setTried] = useState(0);
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const isNote = alarm.acknowledgedAt !== null;
  const name = personName.value;
  const nameWrong = tried > 0 && name.trim() === '' ? say.nameNeeded : null;
  const noteWrong = tried > 0 && isNote && note.trim() === '' ? say.noteMissing : null;
  useLayoutEffect(() => {
    // Before anything is drawn: the next key must find it.
    form.current?.querySelector<HTMLElement>(tried === 0 ? 'input' : '[aria-invalid=true]')?.focus();
  }, [tried]);
  const send = async (): Promise<void> => {
    if (name.trim() === '' || (isNote && note.trim() === '')) {
      setTried(tried + 1);
      return;
    }
    if (busy) return;
    setBusy(true);
    const answer = await acknowledgeAlarm(alarm.id, { by: name.trim(), ...(note.trim() === '' ? {} : { note: note.trim() }) });
    setBusy(false);
    if (answer.ok) {
      takeAlarm(answer.value);
      onDone(isNote ? say.notedNow : say.acknowledgedNow);
    } else setFailure(answer.failure.reason);
  };
  const id = `acknowledge-${alarm.id}`;
  return (
    <form
      class="desk-form"
      ref={form}
      noValidate
      aria-label={isNote ? say.addNote : say.acknowledge}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
      onKeyDown={(event) => { if (event.key === 'Escape') onCancel(); }}
    >
      <FormField label={say.name} id={`${id}-name`} wrong={nameWrong}>
        <input type="text" maxLength={longestName} autocomplete="name" value={name} onInput={(event) => { personName.value = event.currentTarget.value; }} {...fieldAttributes(`${id}-name`, nameWrong)} />
      </FormField>
      <FormField label={isNote ? say.noteNeeded : say.noteLabel} id={`${id}-note`} wrong={noteWrong}>
        <input type="text" class="long" maxLength={longestNote} autocomplete="off" value={note} onInput={(event) => { setNote(event.currentTarget.value); }} {...fieldAttributes(`${id}-note`, noteWrong)} />
      </FormField>
      <button type="submit" aria-disabled={busy}>{isNote ? say.addNote : say.acknowledge}</button>
      <button type="button" onClick={onCancel}>{say.cancel}</button>
      <p role="alert" class="wrong">{failure === null ? '' : say.notTaken(failure)}</p>
    </form>
  );
}
