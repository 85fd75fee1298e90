import type { JSX } from 'preact';
import type { CarriageState } from '../shared/carriage-state.js';
import { ConnectionState } from '../shared/connection-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { seamAndRun } from '../shared/run-word.js';
import { Simulated } from '../shared/simulated.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** Data younger than this is live, ms. */
const live = 1_500;

/** The carriage, its job, the person at it, and the age of the data. */
export function StationBar({ carriage, state, person }: { readonly carriage: Carriage; readonly state: CarriageState; readonly person: string | null }): JSX.Element {
  const say = wordsOf(stationWords);
  const { assignment } = carriage;
  return (
    <div class="station-bar">
      <h1 tabIndex={-1}>{carriage.carriage} {assignment !== null && <span class="station-seam">{seamAndRun(assignment)}</span>}</h1>
      {assignment?.simulated === true && <Simulated />}
      <p class="station-person">{person ?? say.nobodyHere}</p>
      <div class="station-link">
        <ConnectionState />
        <p>{state.age === null ? say.noDataYet : state.age < live ? say.live : say.dataAge(formatAge(state.age))}</p>
      </div>
    </div>
  );
}
