import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

interface Actions {
  readonly alarm: Alarm;
  readonly at: number;
  readonly count: number;
  readonly acknowledge: () => void;
  readonly shelve: () => void;
  readonly note: () => void;
  readonly next: () => void;
}

/** What can be pressed at an alarm; each does its work with the one press. */
export function AlarmActions({ alarm, at, count, acknowledge, shelve, note, next }: Actions): JSX.Element {
  const say = wordsOf(stationWords);
  const open = alarm.state !== 'acknowledged';
  return (
    <div class="pushes">
      {open ? (
        <button type="button" class="push push-first" onClick={acknowledge}>
          {say.acknowledge}
        </button>
      ) : (
        <button type="button" class="push" onClick={note}>
          {say.addNote}
        </button>
      )}
      {alarm.state !== 'returned' && (
        <button type="button" class="push" onClick={shelve}>
          {say.shelve}
        </button>
      )}
      {count > 1 && (
        <button type="button" class="push" onClick={next}>
          {say.nextAlarm(at + 1, count)}
        </button>
      )}
    </div>
  );
}
