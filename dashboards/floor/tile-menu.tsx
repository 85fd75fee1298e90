import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { clockWords } from '../shared/clock-words.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { RetireForm } from './retire-form.js';

/** Links from a carriage to its station, its run, its last runs and alarms; and how to remove a carriage that is gone. */
export function TileMenu({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const say = wordsOf(floorWords);
  const dialog = useRef<HTMLDialogElement>(null);
  const [isOpen, setOpen] = useState(false);
  const { site, carriage: name } = carriage;
  return (
    <>
      <button
        type="button"
        class="tile-more"
        aria-label={say.more(name)}
        aria-haspopup="dialog"
        onClick={() => {
          setOpen(true);
          dialog.current?.showModal();
        }}
      >
        <span aria-hidden="true">⋯</span>
      </button>
      <dialog class="tile-dialog" ref={dialog} aria-label={say.carriage(name, site)} onClose={() => { setOpen(false); }}>
        {isOpen && <Links carriage={carriage} onClose={() => dialog.current?.close()} />}
      </dialog>
    </>
  );
}

function Links({ carriage, onClose }: { readonly carriage: Carriage; readonly onClose: () => void }): JSX.Element {
  const say = wordsOf(floorWords);
  const [retiring, setRetiring] = useState(false);
  const { site, carriage: name, lastSeen, run } = carriage;
  const clock = clockWords(carriage);
  const last = (carriage as { readonly lastRun?: string | null }).lastRun ?? null;
  if (retiring) return <RetireForm carriage={carriage} onDone={onClose} />;
  return (
    <>
      <h2>{say.carriage(name, site)}</h2>
      <p class="aside">{lastSeen === null ? say.noDataReceived : say.lastHeard(formatDateTime(lastSeen))}</p>
      {clock !== null && <p>{clock}</p>}
      <ul>
        <li><a href={writeAddress(['station', site, name])}>{say.station}</a></li>
        {run !== null && <li><a href={writeAddress(['run', run])}>{say.currentRun()}</a></li>}
        {run === null && last !== null && <li><a href={writeAddress(['run', last])}>{say.lastRun()}</a></li>}
        <li><a href={writeAddress(['runs'], { site, carriage: name })}>{say.allRuns()}</a></li>
        <li><a href={writeAddress(['alarms'], { site, carriage: name })}>{say.allAlarms}</a></li>
      </ul>
      <p class="tile-dialog-buttons">
        <button type="button" onClick={() => { setRetiring(true); }}>{say.retire}</button>
        <button type="button" onClick={onClose}>{say.close}</button>
      </p>
    </>
  );
}
