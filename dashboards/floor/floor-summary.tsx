import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import { carriageAt } from '../shared/carriages-now.js';
import { isConnected } from '../shared/is-connected.js';
import { serverNow } from '../shared/now.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { floorState } from './floor-state.js';
import { floorWords } from './floor-words.js';

/** Time of the newest item of any carriage, ms; null where there is none. */
const newestData = computed(() => {
  let newest = '';
  for (const key of floorState.value.keys) {
    const seen = carriageAt(key)?.value.lastSeen ?? '';
    if (seen > newest) newest = seen;
  }
  return newest === '' ? null : Date.parse(newest);
});

/** How many carriages are simulated: every page must say so, and small tiles have no room for it. */
const simulatedNow = computed(() => floorState.value.keys.filter((key) => carriageAt(key)?.value.assignment?.simulated === true).length);

/** Data that is younger than this is as good as live, ms. */
const liveFor = 2_000;

/** How many carriages there are, how many are in alarm, and of how many nothing is known; the last are counted as nothing else. */
export function FloorSummary(): JSX.Element {
  const say = wordsOf(floorWords);
  const { keys, welding, wrong, warned, lost, cause } = floorState.value;
  const age = newestData.value === null ? null : serverNow.value - newestData.value;
  return (
    <p class="floor-summary">
      <span>{say.carriages(keys.length)}</span>
      {lost > 0 && <strong>{say.lost(lost)}</strong>}
      {lost < keys.length && <span>{say.welding(welding)}</span>}
      {wrong > 0 && <strong class="out-text">{say.inAlarm(wrong)}</strong>}
      {cause !== null && <strong class="out-text">{say.silentTogether(cause.keys.length)}</strong>}
      {wrong === 0 && cause === null && lost === 0 && <strong>{say.allWell}</strong>}
      {warned > 0 && <span>{say.toLookAt(warned)}</span>}
      {simulatedNow.value > 0 && <span class="floor-live">{say.simulated(simulatedNow.value)}</span>}
      {age !== null && welding > 0 && isConnected.value && <span class="floor-live">{age < liveFor ? say.live : say.dataAge(formatAge(age))}</span>}
      {age !== null && !isConnected.value && <span class="floor-live">{say.dataAge(formatAge(age))}</span>}
    </p>
  );
}
