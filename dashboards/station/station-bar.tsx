import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { CarriageState } from '../shared/carriage-state.js';
import { ConnectionState } from '../shared/connection-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { seamAndRun } from '../shared/run-word.js';
import { Simulated } from '../shared/simulated.js';
import { formatAge } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { SoundSwitch } from './sound-switch.js';
import { StationMenu } from './station-menu.js';
import { stationWords } from './station-words.js';

/** Which carriage, on what, how old the data is; sound and everything else by press. */
export function StationBar({ carriage, state }: { readonly carriage: Carriage; readonly state: CarriageState }): JSX.Element {
  const say = wordsOf(stationWords);
  const open = useSignal(false);
  const { assignment } = carriage;
  return (
    <>
      <div class="station-bar">
        <h1 tabIndex={-1}>
          {carriage.carriage} {assignment !== null && carriage.run !== null && <span class="station-seam">{seamAndRun(assignment)}</span>}
        </h1>
        {assignment?.simulated === true && <Simulated />}
        <div class="station-link">
          <ConnectionState />
          <p>{state.age === null ? say.noDataYet : say.dataAge(formatAge(state.age))}</p>
        </div>
        <SoundSwitch />
        <button type="button" class="push" aria-expanded={open.value} onClick={() => { open.value = !open.value; }}>
          {open.value ? say.closeMenu : say.menu}
        </button>
      </div>
      {open.value && <StationMenu />}
    </>
  );
}
