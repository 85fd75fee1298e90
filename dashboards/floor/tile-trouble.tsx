import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence, quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { howFarOut } from '../shared/how-far-out.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { lastingAlarms } from '../shared/standing-alarms.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';

/** What is wrong and how far out it is; on a large tile also since where. */
export function TileTrouble({ carriage, alarm, large }: { readonly carriage: Carriage; readonly alarm: Alarm; readonly large: boolean }): JSX.Element {
  const say = wordsOf(floorWords);
  const out = howFarOut(carriage, alarm);
  const more = lastingAlarms(carriage.alarms).length - 1;
  return (
    <>
      {out !== null && <p class="tile-out out-text">{capital(say.quantityOut(quantityWord(alarm.quantity), out))}</p>}
      {(large || out === null) && (
        <p class={out === null ? 'tile-sentence tile-sentence-alone' : 'tile-sentence'}>
          {alarmSentence(alarm, null)} {more > 0 && say.moreAlarms(more)} {alarm.state === 'shelved' && say.shelved}
        </p>
      )}
    </>
  );
}
