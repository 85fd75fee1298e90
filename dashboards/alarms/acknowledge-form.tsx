import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { AlarmForm, LongField } from './alarm-form.js';
import { alarmsWords } from './alarms-words.js';

interface AcknowledgeFormParts {
  readonly id: string;
  readonly label: string;
  /** Whether there must be a note: what is acknowledged already gets that alone. */
  readonly needsNote: boolean;
  /** Gives back why it failed; null where it did not. */
  readonly send: (signed: { readonly by: string; readonly note?: string }) => Promise<string | null>;
  readonly onCancel: () => void;
}

/** Acknowledges one alarm or many with a name and a note. */
export function AcknowledgeForm({ id, label, needsNote, send, onCancel }: AcknowledgeFormParts): JSX.Element {
  const say = alarmsWords();
  const [text, setText] = useState('');
  const note = text.trim();
  const missing = needsNote && note === '';
  return (
    <AlarmForm
      id={id}
      label={label}
      below={(tried) => <LongField id={`${id}-note`} label={needsNote ? say.noteNeeded : say.noteLabel} value={text} wrong={tried && missing ? say.required : null} onInput={setText} />}
      complete={!missing}
      send={async (by) => await send({ by, ...(note === '' ? {} : { note }) })}
      onCancel={onCancel}
    />
  );
}
