import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { carriageAt } from '../shared/carriages-now.js';
import { seamOfAlarm } from '../shared/seam-of-alarm.js';
import { Mark } from '../shared/mark.js';
import { asksAttention } from '../shared/standing-alarms.js';
import { formatClock } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { floorOrder } from './floor-order.js';
import { floorWords } from './floor-words.js';

interface Newest {
  readonly alarm: Alarm;
  readonly key: string;
}

const newest = computed<Newest | null>(() => {
  let found: Newest | null = null;
  for (const key of floorOrder.value.keys) {
    for (const alarm of carriageAt(key)?.value.alarms ?? []) {
      if (asksAttention(alarm) && (found === null || alarm.raisedAt > found.alarm.raisedAt)) found = { alarm, key };
    }
  }
  return found;
});

/** The alarm that was raised last of all that stand, in a sentence. */
export function NewestAlarm(): JSX.Element {
  const say = wordsOf(floorWords);
  const found = newest.value;
  const carriage = found === null ? undefined : carriageAt(found.key)?.value;
  return (
    <p class={found === null ? 'newest newest-none' : 'newest'} role="status">
      {found === null || carriage === undefined ? (
        say.noAlarm
      ) : (
        <>
          <Mark name="alert" /> <span class="newest-when">{`${say.newestAlarm} ${formatClock(found.alarm.raisedAt)}`}</span>{' '}
          <strong>{say.atCarriage(carriage.carriage, alarmSentence(found.alarm, seamOfAlarm(carriage, found.alarm)))}</strong>
        </>
      )}
    </p>
  );
}
