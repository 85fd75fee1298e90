import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { clearedElsewhere, clearedOfRun, shelvedAlarms } from '../shared/standing-alarms.js';
import { formatHour } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** "17 cleared alarms from earlier runs · 1 shelved: voltage, until 22:35": one line that nobody mistakes for an alarm. `hidden` is how many shelved alarms are shown above it. */
export function QuietLine({ carriage, hidden }: { readonly carriage: Carriage; readonly hidden: number }): JSX.Element | null {
  const say = wordsOf(stationWords);
  const ofRun = clearedOfRun(carriage).count;
  const elsewhere = clearedElsewhere(carriage).count;
  const shelved = shelvedAlarms(carriage);
  const parts = [
    ...(ofRun > 0 ? [say.clearedOfRun(ofRun)] : []),
    ...(elsewhere > 0 ? [say.clearedElsewhere(elsewhere)] : []),
    ...(shelved.count > hidden ? [say.shelvedCount(shelved.count, shelved.alarms.map((own) => say.shelvedOf(quantityWord(own.quantity), formatHour(own.shelvedUntil))))] : []),
  ];
  return parts.length === 0 ? null : <p class="alarm-quiet">{parts.join(' · ')}</p>;
}
