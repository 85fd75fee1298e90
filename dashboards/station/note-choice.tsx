import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { wordsOf } from '../shared/words.js';
import { preparedNotes } from './prepared-texts.js';
import { stationWords } from './station-words.js';

interface Choice {
  readonly alarm: Alarm;
  readonly write: (alarm: Alarm, note: string) => Promise<Alarm | null>;
  readonly done: () => void;
}

/** Prepared notes for an alarm that is acknowledged; none has to be pressed. */
export function NoteChoice({ alarm, write, done }: Choice): JSX.Element {
  const say = wordsOf(stationWords);
  const first = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    // The button that was pressed is gone: those who use the keyboard go on here.
    first.current?.focus();
  }, []);
  const press = async (note: string): Promise<void> => {
    if ((await write(alarm, note)) !== null) done();
  };
  return (
    <div class="choice" role="group" aria-labelledby="note-for">
      <p id="note-for">{say.noteFor(alarmSentence(alarm, null))}</p>
      <div class="pushes">
        <button ref={first} type="button" class="push push-first" onClick={done}>
          {say.noNote}
        </button>
        {preparedNotes().map((note) => (
          <button key={note} type="button" class="push" onClick={() => { void press(note); }}>
            {note}
          </button>
        ))}
      </div>
    </div>
  );
}
