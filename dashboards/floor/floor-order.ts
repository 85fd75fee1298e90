import { computed } from '@preact/signals';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import { isWarned } from '../shared/carriage-warnings.js';
import { isConnected } from '../shared/is-connected.js';
import { serverNow } from '../shared/now.js';
import { inOrderOfTrouble, noTrouble, troubleRank } from './trouble.js';

export interface FloorOrder {
  readonly keys: readonly string[];
  /** How many of the first ask for attention, and how many of these are in trouble rather than on their way to it or past it. */
  readonly troubled: number;
  readonly wrong: number;
}

/** As one text, so that only a change of it is told on: values come several times a second from each carriage. */
const orderText = computed(() => {
  const ranks = new Map<string, number>();
  let wrong = 0;
  for (const key of carriageKeys.value) {
    const carriage = carriageAt(key)?.value;
    if (carriage === undefined) continue;
    const { verdict } = carriageVerdict(carriage, serverNow.value, isConnected.value);
    if (isWrong(verdict)) wrong += 1;
    ranks.set(key, troubleRank(carriage, verdict, isWarned(carriage)));
  }
  const keys = inOrderOfTrouble([...ranks.keys()], (key) => ranks.get(key) ?? noTrouble);
  const troubled = keys.filter((key) => (ranks.get(key) ?? noTrouble) < noTrouble).length;
  return [String(troubled), String(wrong), ...keys].join('\n');
});

export const floorOrder = computed<FloorOrder>(() => {
  const [troubled = '0', wrong = '0', ...keys] = orderText.value.split('\n');
  return { keys, troubled: Number(troubled), wrong: Number(wrong) };
});
