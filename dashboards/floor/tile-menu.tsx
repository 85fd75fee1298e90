import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { retireCarriage } from '../shared/api.js';
import { forgetCarriage } from '../shared/carriages-now.js';
import { clockWords } from '../shared/carriage-warnings.js';
import { handleSubmit, personName } from '../shared/form-parts.js';
import { formatDateTime } from '../shared/times.js';
import { floorWords } from './floor-words.js';

/** Links from a carriage to its station, its run, its last runs and alarms; and how to remove a carriage that is gone. */
export function TileMenu({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const say = floorWords();
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
  const say = floorWords();
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

/** Asks for confirmation before a carriage is removed from the floor, and for the name of the person who removes it. */
function RetireForm({ carriage, onDone }: { readonly carriage: Carriage; readonly onDone: () => void }): JSX.Element {
  const say = floorWords();
  const field = useRef<HTMLInputElement>(null);
  const [tried, setTried] = useState(0);
  const [failure, setFailure] = useState<string | null>(null);
  const { site, carriage: name } = carriage;
  const by = personName.value.trim();
  const wrong = tried > 0 && by === '';
  useLayoutEffect(() => field.current?.focus(), [tried]);
  const send = async (): Promise<void> => {
    if (by === '') {
      setTried(tried + 1);
      return;
    }
    const answer = await retireCarriage(site, name, by);
    if (answer.ok || answer.failure.status === 404) {
      forgetCarriage({ site, carriage: name });
      onDone();
    } else setFailure(answer.failure.status === 409 ? say.retireWelding : say.notSaved(answer.failure.reason));
  };
  return (
    <form
      noValidate
      onSubmit={handleSubmit(() => { void send(); })}
    >
      <h2>{say.retireQuestion(name)}</h2>
      <p>{say.retireMore}</p>
      <label>
        {say.yourName}
        <input
          ref={field}
          type="text"
          maxLength={100}
          autocomplete="name"
          value={personName.value}
          onInput={(event) => { personName.value = event.currentTarget.value; }}
          aria-invalid={wrong ? 'true' : undefined}
          aria-describedby={wrong ? 'retire-wrong' : undefined}
        />
      </label>
      <p id="retire-wrong" role="alert" class="wrong">{wrong ? say.nameNeeded : (failure ?? '')}</p>
      <p class="tile-dialog-buttons">
        <button type="submit">{say.retireYes}</button>
        <button type="button" onClick={onDone}>{say.cancel}</button>
      </p>
    </form>
  );
}
