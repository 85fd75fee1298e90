import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { alarmPlace, alarmSentence, quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageWarnings } from '../shared/carriage-warnings.js';
import { clockWords } from '../shared/clock-words.js';
import { howFarOut } from '../shared/how-far-out.js';
import { activeCount, clearedElsewhere, clearedOfRun } from '../shared/standing-alarms.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';

/** What is wrong now and how far, what is on its way, and how many alarms are history: a count, never the sentence of one that is over. */
export function TileNotes({ carriage, verdict }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict }): JSX.Element | null {
  const say = wordsOf(floorWords);
  const { alarm, state } = verdict;
  if (verdict.verdict === 'lost') return <p class="tile-out">{state.age === null ? say.noData : say.lastData(formatAge(state.age))}</p>;
  if (verdict.verdict === 'silent') return <p class="tile-out">{state.age === null ? say.noData : state.words}</p>;
  if (alarm !== null) {
    const out = howFarOut(carriage, alarm);
    const more = activeCount(carriage) - 1;
    return (
      <>
        {out !== null && <p class="tile-out out-text">{capital(say.quantityOut(quantityWord(alarm.quantity), out))}</p>}
        <p class="tile-sentence">
          {out === null ? alarmSentence(alarm, null, state.age) : `${alarmPlace(alarm)}.`} {more > 0 && say.moreAlarms(more)} {alarm.state === 'shelved' && say.shelved}
        </p>
      </>
    );
  }
  const [warning] = carriageWarnings(carriage);
  const past = clearedOfRun(carriage).count + clearedElsewhere(carriage).count;
  const clock = clockWords(carriage);
  return (
    <>
      {warning !== undefined && <p class="tile-sentence">{warning}</p>}
      {warning === undefined && clock !== null && <p class="tile-sentence">{clock}</p>}
      {warning === undefined && clock === null && past > 0 && <p class="tile-history">{say.cleared(past)}</p>}
    </>
  );
}
