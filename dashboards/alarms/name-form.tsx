import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { personName } from '../shared/person-name.js';
import { wordsOf } from '../shared/words.js';
import { alarmsWords } from './alarms-words.js';
import { fieldAttributes, FormField } from './form-field.js';

interface NameFormParts {
  readonly id: string;
  readonly label: string;
  /** Whether a note is asked for as well. */
  readonly note: boolean;
  /** Gives back why it failed; null where it did not. */
  readonly send: (by: string, note: string | null) => Promise<string | null>;
  readonly onCancel: () => void;
}

/** Asks for a name, and for a note where that is wanted, before something is done. */
export function NameForm({ id, label, note: withNote, send, onCancel }: NameFormParts): JSX.Element {
  const say = wordsOf(alarmsWords);
  const form = useRef<HTMLFormElement>(null);
  const [note, setNote] = useState('');
  const [tried, setTried] = useState(0);
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const name = personName.value;
  const wrong = tried > 0 && name.trim() === '' ? say.nameNeeded : null;
  useLayoutEffect(() => {
    form.current?.querySelector<HTMLElement>('input')?.focus();
  }, [tried]);
  const submit = async (): Promise<void> => {
    if (name.trim() === '') {
      setTried(tried + 1);
      return;
    }
    if (busy) return;
    setBusy(true);
    setFailure(await send(name.trim(), note.trim() === '' ? null : note.trim()));
    setBusy(false);
  };
  return (
    <form
      class="desk-form"
      ref={form}
      noValidate
      aria-label={label}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
      onKeyDown={(event) => { if (event.key === 'Escape') onCancel(); }}
    >
      <FormField label={say.name} id={`${id}-name`} wrong={wrong}>
        <input type="text" maxLength={100} autocomplete="name" value={name} onInput={(event) => { personName.value = event.currentTarget.value; }} {...fieldAttributes(`${id}-name`, wrong)} />
      </FormField>
      {withNote && (
        <FormField label={say.noteLabel} id={`${id}-note`} wrong={null}>
          <input type="text" class="long" maxLength={1000} autocomplete="off" value={note} onInput={(event) => { setNote(event.currentTarget.value); }} id={`${id}-note`} />
        </FormField>
      )}
      <button type="submit" aria-disabled={busy}>{label}</button>
      <button type="button" onClick={onCancel}>{say.cancel}</button>
      <p role="alert" class="wrong">{failure === null ? '' : say.notTaken(failure)}</p>
    </form>
  );
}
