import type { Carriage } from '../../shared/api-types/carriage.js';
import type { MarkName } from './mark-name.js';
import { sharedWords } from './shared-words.js';
import { formatAge } from './times.js';

/** While the arc burns, a value older than this does not count as current, ms. */
export const freshFor = 2_000;

export interface CarriageState {
  /** ms since the last message from the carriage; null if there was none. */
  readonly age: number | null;
  /** Welding by the last word from it, yet that word is old. */
  readonly stale: boolean;
  readonly mark: MarkName;
  readonly words: string;
}

/** The state of the carriage at that server time, ms. */
export function carriageState(carriage: Pick<Carriage, 'lastSeen' | 'welding' | 'online'>, at: number): CarriageState {
  const say = sharedWords();
  const age = carriage.lastSeen === null ? null : Math.max(0, at - Date.parse(carriage.lastSeen));
  const stale = carriage.welding && (age === null || age > freshFor);
  if (stale) return { age, stale, mark: 'warning', words: say.silent(carriage.online === false, age === null ? null : formatAge(age)) };
  if (carriage.welding) return { age, stale, mark: 'full', words: say.welding };
  if (carriage.online === false) return { age, stale, mark: 'crossed', words: say.offline };
  return { age, stale, mark: 'empty', words: say.arcOff };
}
