import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { alarmPlace, alarmSentence, quantityWord } from '../shared/alarm-sentence.js';
import { howFarOut, type CarriageVerdict } from '../shared/carriage-verdict.js';
import { carriageWarnings, clockWords } from '../shared/carriage-warnings.js';
import { activeCount, clearedElsewhere, clearedOfRun } from '../shared/standing-alarms.js';
import { formatAge } from '../shared/times.js';
import { capital } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { fitLine, fitTwoLines } from './text-width.js';

/** Largest type of the short form and of sentences, in units of the tile's type. */
const types = { out: 0.95, sentence: 0.667 } as const;

/** What is wrong now and by how much, what will soon go wrong, and how many alarms are history: those are only counted, never shown as sentences. */
export function TileNotes({ carriage, verdict, room }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly room: number }): JSX.Element | null {
  const say = floorWords();
  const { alarm, state } = verdict;
  const out = (text: string, look = 'tile-out'): JSX.Element => <p class={look} style={{ '--fit': fitLine(text, room, types.out, true) }}>{text}</p>;
  const sentence = (text: string, look = 'tile-sentence'): JSX.Element => <p class={look} style={{ '--fit': fitTwoLines(text, room, types.sentence) }}>{text}</p>;
  if (verdict.verdict === 'lost') return out(state.age === null ? say.noDataReceived : say.dataAge(formatAge(state.age)));
  if (verdict.verdict === 'silent') return out(state.age === null ? say.noDataReceived : state.words);
  if (alarm !== null) {
    const far = howFarOut(carriage, alarm);
    const more = activeCount(carriage) - 1;
    const extra = [...(more > 0 ? [say.moreAlarms(more)] : []), ...(alarm.state === 'shelved' ? [say.shelved] : [])];
    const text = [far === null ? alarmSentence(alarm, null, state.age) : say.sentence(alarmPlace(alarm)), ...extra].join(' ');
    return (
      <>
        {far !== null && out(capital(say.quantityOut(quantityWord(alarm.quantity), far)), 'tile-out out-text')}
        {sentence(text)}
      </>
    );
  }
  const [warning] = carriageWarnings(carriage);
  if (warning !== undefined) return sentence(warning);
  const past = clearedOfRun(carriage).count + clearedElsewhere(carriage).count;
  const clock = clockWords(carriage);
  if (clock !== null) return sentence(clock);
  return past > 0 ? sentence(say.cleared(past), 'tile-sentence tile-history') : null;
}
