import type { Carriage } from '../../shared/api-types/carriage.js';
import type { MarkName } from './mark-name.js';
import { formatAge } from './times.js';

/** A value older than this is no present value while the arc burns, ms. */
export const freshFor = 2_000;

export interface CarriageState {
  /** ms since anything came from the carriage; null where nothing did. */
  readonly age: number | null;
  /** Welding by the last word from it, yet that word is old. */
  readonly stale: boolean;
  readonly mark: MarkName;
  readonly words: string;
}

/** What can be said of the carriage at that server time, ms. */
export function carriageState(carriage: Pick<Carriage, 'lastSeen' | 'welding' | 'online'>, at: number): CarriageState {
  const age = carriage.lastSeen === null ? null : Math.max(0, at - Date.parse(carriage.lastSeen));
  const stale = carriage.welding && (age === null || age > freshFor);
  if (stale) {
    const silence = age === null ? 'nothing heard' : `nothing heard for ${formatAge(age)}`;
    return { age, stale, mark: 'warning', words: `${carriage.online === false ? 'Offline' : 'Was welding'}, ${silence}` };
  }
  if (carriage.welding) return { age, stale, mark: 'full', words: 'Welding' };
  if (carriage.online === false) return { age, stale, mark: 'crossed', words: 'Offline' };
  return { age, stale, mark: 'empty', words: 'Arc off' };
}
