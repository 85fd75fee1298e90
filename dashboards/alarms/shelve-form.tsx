import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { serverNow } from '../shared/now.js';
import { AlarmForm, LongField } from './alarm-form.js';
import { alarmsWords } from './alarms-words.js';
import { fieldAttributes, FormField } from '../shared/form-parts.js';
import { nextTimeOfDay, shelveChoices, type ShelveChoice } from './shelve-until.js';

interface ShelveFormParts {
  readonly id: string;
  /** Sends the end of the shelving in Unix ms; returns why that failed, or null if it succeeded. */
  readonly send: (shelved: { readonly until: number; readonly reason: string; readonly by: string }) => Promise<string | null>;
  readonly onCancel: () => void;
}

/** Shelves an alarm for a time, with the reason and the name of the person. */
export function ShelveForm({ id, send, onCancel }: ShelveFormParts): JSX.Element {
  const say = alarmsWords();
  const [choice, setChoice] = useState<ShelveChoice>('10min');
  const [time, setTime] = useState('');
  const [reason, setReason] = useState('');
  const labels: Readonly<Record<ShelveChoice, string>> = { '10min': say.minutes(10), '30min': say.minutes(30), '2h': say.hours(2), time: say.untilTime };
  const until = (): number | null => {
    const at = serverNow.peek();
    const length = shelveChoices.find((own) => own.name === choice)?.length ?? null;
    return length === null ? nextTimeOfDay(time, at) : Math.round(at + length);
  };
  const fields = (tried: boolean): JSX.Element => {
    const timeWrong = tried && until() === null ? say.timeNeeded : null;
    return (
      <>
        <FormField label={say.until} id={`${id}-until`} wrong={null}>
          <select value={choice} onChange={(event) => { setChoice(shelveChoices.find((own) => own.name === event.currentTarget.value)?.name ?? '10min'); }} id={`${id}-until`}>
            {shelveChoices.map((own) => <option key={own.name} value={own.name}>{labels[own.name]}</option>)}
          </select>
        </FormField>
        {choice === 'time' && (
          <FormField label={say.time} id={`${id}-time`} wrong={timeWrong}>
            <input type="text" inputMode="numeric" placeholder="14:30" maxLength={5} autocomplete="off" value={time} onInput={(event) => { setTime(event.currentTarget.value); }} {...fieldAttributes(`${id}-time`, timeWrong)} />
          </FormField>
        )}
        <LongField id={`${id}-reason`} label={say.reasonLabel} value={reason} wrong={tried && reason.trim() === '' ? say.reasonNeeded : null} onInput={setReason} />
      </>
    );
  };
  return (
    <AlarmForm
      id={id}
      label={say.shelve}
      above={fields}
      hint={say.shelveHint}
      complete={until() !== null && reason.trim() !== ''}
      send={async (by) => {
        const end = until();
        return end === null ? say.timeNeeded : await send({ until: end, reason: reason.trim(), by });
      }}
      onCancel={onCancel}
    />
  );
}
