import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { writeAddress } from '../shared/address.js';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import { carriageVerdict, isWrong, verdictText } from '../shared/carriage-verdict.js';
import { isConnected } from '../shared/is-connected.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { seamAndRun } from '../shared/common-words.js';
import { verdictWords } from '../shared/verdict-words.js';
import { ownCarriage } from './own-carriage.js';
import { stationWords } from './station-words.js';

/** The list of known carriages by hall, for an address that names none of them. A tablet goes back to its last carriage by itself. */
export function ChooseStation({ wanted }: { readonly wanted: string | null }): JSX.Element {
  const say = stationWords();
  const keys = carriageKeys.value;
  const own = wanted === null ? ownCarriage() : null;
  const goes = own !== null && keys.includes(own);
  useEffect(() => { if (goes) window.location.replace(writeAddress(['station', ...own.split('/')])); }, [goes, own]);
  const halls = [...new Set(keys.map((key) => key.slice(0, key.indexOf('/'))))];
  return (
    <div class="station-choice">
      <h1 tabIndex={-1}>{say.choose}</h1>
      {carriagesKnown.value && wanted !== null && <p>{say.noSuchCarriage(wanted)}</p>}
      {keys.length === 0 && <p>{carriagesKnown.value ? say.noDataReceived : say.loading}</p>}
      {halls.map((hall) => (
        <section key={hall} aria-label={hall}>
          <h2>{hall}</h2>
          <ul class="station-choices">
            {keys
              .filter((key) => key.startsWith(`${hall}/`))
              .map((key) => <li key={key}><StationLink carriageKey={key} /></li>)}
          </ul>
        </section>
      ))}
    </div>
  );
}

/** One carriage with the word for how it is, and its job. */
function StationLink({ carriageKey }: { readonly carriageKey: string }): JSX.Element | null {
  const carriage = carriageAt(carriageKey)?.value;
  if (carriage === undefined) return null;
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  return (
    <a class={isWrong(verdict.verdict) ? 'push push-wrong' : 'push'} href={writeAddress(['station', carriage.site, carriage.carriage])}>
      <strong>{carriage.carriage}</strong>
      <span><Mark name={verdict.mark} /> {verdictText(verdict)}</span>
      <small>{carriage.assignment === null ? verdictWords().noAssignment : seamAndRun(carriage.assignment)}</small>
    </a>
  );
}
