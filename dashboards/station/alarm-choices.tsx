import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { language, type Language } from '../shared/choices.js';
import { formatAge } from '../shared/times.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

/** Notes that one press adds to an alarm, and reasons for which an alarm can be shelved by one press. */
const prepared: Readonly<Record<Language, { readonly notes: readonly string[]; readonly reasons: readonly string[] }>> = {
  en: {
    notes: ['Contact tube changed', 'Wire feed fixed', 'Setting corrected', 'Track or tracking corrected', 'Stopped, coordinator called', 'Cause not found'],
    reasons: ['Repair under way', 'Faulty sensor', 'Agreed with the coordinator', 'Test piece'],
  },
  zh: {
    notes: ['已更换导电嘴', '已排除送丝问题', '已调整设定值', '已调整轨道或跟踪', '已停焊并通知焊接责任人员', '未找到原因'],
    reasons: ['正在处理', '传感器故障', '已与焊接责任人员商定', '试件'],
  },
};

const minute = 60_000;
/** ms; common practice, no source. */
const lengths = [10 * minute, 30 * minute, 60 * minute, 240 * minute] as const;

interface ChoiceProps<Chosen extends unknown[]> {
  readonly alarm: Alarm;
  readonly write: (alarm: Alarm, ...chosen: Chosen) => Promise<Alarm | null>;
  readonly done: () => void;
}

/** Prepared notes for an acknowledged alarm; adding one is optional. */
export function NoteChoice({ alarm, write, done }: ChoiceProps<[note: string]>): JSX.Element {
  const press = async (note: string): Promise<void> => { if ((await write(alarm, note)) !== null) done(); };
  return (
    <Sheet title={stationWords().addNote} close={done}>
      <p>{alarmSentence(alarm, alarm.seam)}</p>
      <div class="pushes">
        {prepared[language.value].notes.map((note) => <button key={note} type="button" class="push" onClick={() => { void press(note); }}>{note}</button>)}
      </div>
    </Sheet>
  );
}

/** Shelving takes two presses: for how long, and why. A shelved alarm stays readable. */
export function ShelveChoice({ alarm, write, done }: ChoiceProps<[length: number, reason: string]>): JSX.Element {
  const say = stationWords();
  const length = useSignal<number | null>(null);
  const chosen = length.value;
  const press = async (until: number, reason: string): Promise<void> => { if ((await write(alarm, until, reason)) !== null) done(); };
  return (
    <Sheet title={chosen === null ? say.shelveFor : say.shelveWhy(formatAge(chosen))} close={done} focus={chosen}>
      <p>{alarmSentence(alarm, alarm.seam)}</p>
      <p class="sheet-aside">{say.shelveHint}</p>
      <div class="pushes">
        {chosen === null
          ? lengths.map((own) => <button key={own} type="button" class="push" onClick={() => { length.value = own; }}>{formatAge(own)}</button>)
          : prepared[language.value].reasons.map((reason) => <button key={reason} type="button" class="push" onClick={() => { void press(chosen, reason); }}>{reason}</button>)}
      </div>
      {chosen !== null && (
        <div class="pushes sheet-back"><button type="button" class="push" onClick={() => { length.value = null; }}>{say.back}</button></div>
      )}
    </Sheet>
  );
}
