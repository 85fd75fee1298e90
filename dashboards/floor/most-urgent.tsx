import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { carriageState } from '../shared/carriage-state.js';
import { carriageAt } from '../shared/carriages-now.js';
import { isConnected } from '../shared/is-connected.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { activeAlarms, arrivedAt, byUrgency } from '../shared/standing-alarms.js';
import { formatAge, formatClock } from '../shared/times.js';
import { floorState } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { textWidth } from './text-width.js';

interface Found { readonly alarm: Alarm; readonly key: string }

/** The most urgent of all active alarms, among equals the one that arrived last; alarms with a common cause are shown as that. */
const mostUrgent = computed<Found | null>(() => {
  const { keys, cause } = floorState.value;
  let found: Found | null = null;
  for (const key of keys) {
    const carriage = carriageAt(key)?.value;
    const [alarm] = carriage === undefined ? [] : activeAlarms(carriage).filter(({ quantity }) => quantity !== 'noData' || cause?.keys.includes(key) !== true);
    if (alarm !== undefined && (found === null || byUrgency(alarm, found.alarm) < 0)) found = { alarm, key };
  }
  return found;
});

/** Type of the age beside the sentence, in units of the sentence's type; and the room for mark, gaps and padding. */
const ageType = 0.8;
const aroundText = 3.6;

/** What needs attention first, in a sentence with its age: a cause that many share, otherwise the most urgent active alarm. Quiet if nothing is active. */
export function MostUrgent(): JSX.Element {
  const say = floorWords();
  const { cause, keys } = floorState.value;
  const found = mostUrgent.value;
  const known = isConnected.value;
  if (cause !== null && known) {
    const text = say.commonCause(cause.keys.length, keys.length, formatClock(cause.since));
    const more = found === null ? '' : sentenceOf(found);
    return (
      <p class="urgent" role="status" style={{ '--urgent-width': textWidth(text, true) + textWidth(more) * ageType + aroundText }}>
        <Mark name="crossed" /> <strong>{text}</strong>
        {found !== null && <span class="urgent-more"> {more}</span>}
      </p>
    );
  }
  if (found === null) return <p class="urgent urgent-none">{known ? say.noAlarm : say.alarmsNotKnown}</p>;
  const sentence = sentenceOf(found);
  const age = ageOf(found.alarm, known);
  return (
    <p class={known ? 'urgent' : 'urgent urgent-none'} role="status" style={{ '--urgent-width': textWidth(sentence, true) + textWidth(age) * ageType + aroundText }}>
      <Mark name={known ? 'alert' : 'crossed'} /> {known ? <strong>{sentence}</strong> : <s>{sentence}</s>}
      {/* Apart and unheard: a screen reader is not to read every second. */}
      <span class="urgent-when" aria-hidden="true">{age}</span>
    </p>
  );
}

function ageOf(alarm: Alarm, known: boolean): string {
  const say = floorWords();
  const at = Date.parse(arrivedAt(alarm));
  return known ? say.activeFor(formatAge(Math.floor((serverNow.value - at) / 1000) * 1000)) : say.asKnownThen(formatClock(at));
}

function sentenceOf({ alarm, key }: Found): string {
  const carriage = carriageAt(key)?.value;
  const age = carriage === undefined ? null : carriageState(carriage, serverNow.value).age;
  return floorWords().atCarriage(alarm.carriage ?? '', alarm.seam, alarmSentence(alarm, null, age === null ? null : inSteps(age)));
}

/** A silence in steps that a screen reader can follow, ms: whole seconds at first, later tens; never 0. */
function inSteps(age: number): number {
  const step = age < 10_000 ? 1_000 : 10_000;
  return Math.floor(age / step) * step;
}
