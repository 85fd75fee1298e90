import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import { carriageAt } from '../shared/carriages-now.js';
import { serverNow } from '../shared/now.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { floorOrder } from './floor-order.js';
import { floorWords } from './floor-words.js';

/** Time of the newest item of any carriage, ms; null where there is none. */
const newestData = computed(() => {
  let newest = '';
  for (const key of floorOrder.value.keys) {
    const seen = carriageAt(key)?.value.lastSeen ?? '';
    if (seen > newest) newest = seen;
  }
  return newest === '' ? null : Date.parse(newest);
});

const weldingNow = computed(() => floorOrder.value.keys.filter((key) => carriageAt(key)?.value.welding === true).length);

/** How many there are, how many are in trouble, and how old what is shown is. */
export function FloorSummary(): JSX.Element {
  const say = wordsOf(floorWords);
  const { keys, troubled, wrong } = floorOrder.value;
  const age = newestData.value === null ? null : serverNow.value - newestData.value;
  return (
    <p class="floor-summary">
      <span>{say.carriages(keys.length)}</span>
      <span>{say.welding(weldingNow.value)}</span>
      <strong class={wrong > 0 ? 'out-text' : undefined}>{wrong > 0 ? say.inTrouble(wrong) : say.allWell}</strong>
      {troubled > wrong && <span>{say.toLookAt(troubled - wrong)}</span>}
      {age !== null && <span>{say.dataAge(formatAge(age))}</span>}
    </p>
  );
}
