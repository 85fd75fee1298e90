import type { JSX } from 'preact';
import { alarmSentence } from '../shared/alarm-sentence.js';
import { carriageWarnings } from '../shared/carriage-warnings.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { Mark } from '../shared/mark.js';
import { attentionAlarms } from '../shared/standing-alarms.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';

/** Of a carriage that nothing is wrong with: what is coming, what is past and not acknowledged, else its values on a large tile. */
export function TileDetails({ carriage, large }: { readonly carriage: Carriage; readonly large: boolean }): JSX.Element | null {
  const [warning] = carriageWarnings(carriage);
  const over = attentionAlarms(carriage.alarms).filter(({ state }) => state === 'returned');
  const [last] = over;
  if (warning !== undefined || last !== undefined) {
    return (
      <p class="tile-sentence tile-sentence-alone">
        <Mark name="warning" /> {warning ?? wordsOf(floorWords).notAcknowledged(over.length)} {large && last !== undefined && warning === undefined && alarmSentence(last, null)}
      </p>
    );
  }
  if (!large || !carriage.welding) return null;
  return <p class="tile-values">{valuesOf(carriage).join(' · ')}</p>;
}

function valuesOf({ arcs, travelSpeed, localHeatInput, heatInput }: Carriage): string[] {
  const of = arcs.flatMap(({ current, voltage }) => [current === null ? null : shown('current', current), voltage === null ? null : shown('voltage', voltage)]);
  const heat = localHeatInput ?? heatInput;
  return [...of, travelSpeed === null ? null : shown('travelSpeed', travelSpeed), heat === null ? null : shown('heatInput', heat)].filter((text) => text !== null);
}
