import { computed } from '@preact/signals';
import { address } from '../shared/current-address.js';
import { carriageVerdict, isWrong } from '../shared/carriage-verdict.js';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import { isWarned } from '../shared/carriage-warnings.js';
import { isConnected } from '../shared/is-connected.js';
import { serverNow } from '../shared/now.js';
import { commonCause, type CommonCause, type Silent } from './common-cause.js';
import { inOrderOfTrouble, noTrouble, troubleRank } from './trouble.js';

/** What the floor says about all carriages together. No carriage is in two of the counts. */
export interface FloorState {
  /** In the order in which people count, hall by hall: each keeps its place. */
  readonly keys: readonly string[];
  /** Keys of those that ask for attention, the most urgent first; those of a common cause are not among them. */
  readonly troubled: readonly string[];
  readonly welding: number;
  /** Carriages with something wrong now, each for a reason of its own. */
  readonly wrong: number;
  /** Something is on its way to trouble. */
  readonly warned: number;
  /** Nothing is known of them: this page is not connected. */
  readonly lost: number;
  readonly cause: CommonCause | null;
}

/** The hall that the address names; empty for all. */
export const shownSite = computed(() => address.value.query.get('site') ?? '');

/** Every hall there is. */
export const sites = computed(() => [...new Set(carriageKeys.value.map((key) => key.slice(0, key.indexOf('/'))))]);

/** The state as one text, so that subscribers only hear of changes: each carriage sends values several times a second. */
const stateText = computed(() => {
  const keys = carriageKeys.value.filter((key) => shownSite.value === '' || key.startsWith(`${shownSite.value}/`));
  const ranks = new Map<string, number>();
  const silent: Silent[] = [];
  const counts = { welding: 0, wrong: 0, warned: 0, lost: 0 };
  const isWrongOf = new Set<string>();
  for (const key of keys) {
    const carriage = carriageAt(key)?.value;
    if (carriage === undefined) continue;
    const { verdict } = carriageVerdict(carriage, serverNow.value, isConnected.value);
    if (verdict === 'lost') {
      counts.lost += 1;
      continue;
    }
    if (carriage.welding && verdict !== 'silent') counts.welding += 1;
    if (verdict === 'silent') silent.push({ key, since: Date.parse(carriage.lastSeen ?? '') || 0 });
    if (isWrong(verdict)) isWrongOf.add(key);
    const warned = isWarned(carriage) && !isWrong(verdict);
    if (warned) counts.warned += 1;
    ranks.set(key, troubleRank(carriage, verdict, warned));
  }
  const cause = commonCause(silent, counts.welding + silent.length);
  for (const key of cause?.keys ?? []) {
    ranks.delete(key);
    isWrongOf.delete(key);
  }
  const troubled = inOrderOfTrouble([...ranks.keys()].filter((key) => (ranks.get(key) ?? noTrouble) < noTrouble), (key) => ranks.get(key) ?? noTrouble);
  return JSON.stringify({ keys, troubled, ...counts, wrong: isWrongOf.size, cause } satisfies FloorState);
});

export const floorState = computed<FloorState>(() => JSON.parse(stateText.value) as FloorState);

/** A screen that nobody touches: `#/?kiosk=1` leaves out everything that could be pressed. */
export const isKiosk = computed(() => address.value.query.get('kiosk') === '1');
