import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { wordsOf } from '../shared/words.js';
import { preparedNotes } from './prepared-texts.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

interface Choice {
  readonly alarm: Alarm;
  readonly write: (alarm: Alarm, note: string) => Promise<Alarm | null>;
  readonly done: () => void;
}

/** Prepared notes for an acknowledged alarm; adding one is optional. */
export function NoteChoice({ alarm, write, done }: Choice): JSX.Element {
  const say = wordsOf(stationWords);
  const press = async (note: string): Promise<void> => { if ((await write(alarm, note)) !== null) done(); };
  return (
    <Sheet title={say.addNote} close={done}>
      <p>{alarmSentence(alarm, alarm.seam)}</p>
      <div class="pushes">
        {preparedNotes().map((note) => <button key={note} type="button" class="push" onClick={() => { void press(note); }}>{note}</button>)}
      </div>
    </Sheet>
  );
}
