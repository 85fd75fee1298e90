import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { alarmsWords } from './alarms-words.js';
import { fieldAttributes, FormField, handleSubmit, personName } from '../shared/form-parts.js';

/** Draws fields; if `tried` is true, each says what is wrong with it. */
type Fields = (tried: boolean) => JSX.Element;

interface AlarmFormParts {
  readonly id: string;
  readonly label: string;
  /** The fields above and below the name. */
  readonly above?: Fields;
  readonly below?: Fields;
  readonly hint?: string;
  /** Whether those fields are correct. */
  readonly complete?: boolean;
  /** Gives back why it failed; null where it did not. */
  readonly send: (by: string) => Promise<string | null>;
  readonly onCancel: () => void;
}

/** Asks for a name, and for what else is needed, before something is done with alarms. */
export function AlarmForm({ id, label, above, below, hint, complete = true, send, onCancel }: AlarmFormParts): JSX.Element {
  const say = alarmsWords();
  const form = useRef<HTMLFormElement>(null);
  const [tried, setTried] = useState(0);
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const name = personName.value;
  const nameWrong = tried > 0 && name.trim() === '' ? say.nameNeeded : null;
  useLayoutEffect(() => {
    // Before anything is drawn: the next key must find it.
    form.current?.querySelector<HTMLElement>(tried === 0 ? 'input, select' : '[aria-invalid=true]')?.focus();
  }, [tried]);
  const submit = async (): Promise<void> => {
    if (name.trim() === '' || !complete) {
      setTried(tried + 1);
      return;
    }
    if (busy) return;
    setBusy(true);
    setFailure(await send(name.trim()));
    setBusy(false);
  };
  return (
    <form
      class="desk-form"
      ref={form}
      noValidate
      aria-label={label}
      onSubmit={handleSubmit(() => { void submit(); })}
      onKeyDown={(event) => { if (event.key === 'Escape') onCancel(); }}
    >
      {above?.(tried > 0)}
      <FormField label={say.yourName} id={`${id}-name`} wrong={nameWrong}>
        <input type="text" maxLength={100} autocomplete="name" value={name} onInput={(event) => { personName.value = event.currentTarget.value; }} {...fieldAttributes(`${id}-name`, nameWrong)} />
      </FormField>
      {below?.(tried > 0)}
      <button type="submit" aria-disabled={busy}>{label}</button>
      <button type="button" onClick={onCancel}>{say.cancel}</button>
      {hint !== undefined && <p class="hint">{hint}</p>}
      <p role="alert" class="wrong">{failure === null ? '' : say.notSavedKept(failure)}</p>
    </form>
  );
}

/** A field for a line of text, up to 1,000 characters. */
export function LongField({ id, label, value, wrong, onInput }: { readonly id: string; readonly label: string; readonly value: string; readonly wrong: string | null; readonly onInput: (text: string) => void }): JSX.Element {
  return (
    <FormField label={label} id={id} wrong={wrong}>
      <input type="text" class="long" maxLength={1000} autocomplete="off" value={value} onInput={(event) => { onInput(event.currentTarget.value); }} {...fieldAttributes(id, wrong)} />
    </FormField>
  );
}
