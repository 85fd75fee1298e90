import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { preparedReasons } from './prepared-texts.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

interface Choice {
  readonly alarm: Alarm;
  readonly write: (alarm: Alarm, length: number, reason: string) => Promise<Alarm | null>;
  readonly done: () => void;
}

const minute = 60_000;
/** ms; common practice, no source. */
const lengths = [10 * minute, 30 * minute, 60 * minute, 240 * minute] as const;

/** Shelving takes two presses: for how long, and why. A shelved alarm stays readable. */
export function ShelveChoice({ alarm, write, done }: Choice): JSX.Element {
  const say = wordsOf(stationWords);
  const length = useSignal<number | null>(null);
  const chosen = length.value;
  const press = async (until: number, reason: string): Promise<void> => { if ((await write(alarm, until, reason)) !== null) done(); };
  return (
    <Sheet title={chosen === null ? say.shelveFor : say.shelveWhy(formatAge(chosen))} close={done} focus={chosen}>
      <p>{alarmSentence(alarm, alarm.seam)}</p>
      <p class="sheet-aside">{say.shelveHint}</p>
      <div class="pushes">
        {chosen === null
          ? lengths.map((own) => (
              <button key={own} type="button" class="push" onClick={() => { length.value = own; }}>{formatAge(own)}</button>
            ))
          : preparedReasons().map((reason) => (
              <button key={reason} type="button" class="push" onClick={() => { void press(chosen, reason); }}>{reason}</button>
            ))}
      </div>
      {chosen !== null && (
        <div class="pushes sheet-back"><button type="button" class="push" onClick={() => { length.value = null; }}>{say.back}</button></div>
      )}
    </Sheet>
  );
}
