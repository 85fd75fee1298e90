import type { Carriage } from '../../shared/api-types/carriage.js';
import { sharedWords } from './shared-words.js';
import { formatAge } from './times.js';
import { wordsOf } from './words.js';

/** A smaller difference is not a wrong clock, as messages take a moment and blocks are sent once they are full; s. Common practice, no source. */
const noticed = 30;

/** "Carriage clock is 20 min ahead", if the carriage's clock differs that much from the service's; otherwise null. */
export function clockWords({ clockOffset }: Pick<Carriage, 'clockOffset'>): string | null {
  if (clockOffset === null || Math.abs(clockOffset) < noticed) return null;
  const age = formatAge(Math.abs(clockOffset) * 1000);
  // Arrival less device time: below zero the device is ahead.
  return clockOffset < 0 ? wordsOf(sharedWords).clockAhead(age) : wordsOf(sharedWords).clockBehind(age);
}
