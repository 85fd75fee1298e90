import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { carriageKeys } from '../shared/carriages-now.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** Where the address names no carriage that is known: those that are. */
export function ChooseStation({ wanted }: { readonly wanted: string | null }): JSX.Element {
  const say = wordsOf(stationWords);
  const keys = carriageKeys.value;
  return (
    <div class="station station-choice">
      <h1 tabIndex={-1}>{say.choose}</h1>
      {carriagesKnown.value && wanted !== null && <p>{say.unknown(wanted)}</p>}
      {keys.length === 0 && <p>{carriagesKnown.value ? say.none : say.asking}</p>}
      <ul class="pushes">
        {keys.map((key) => (
          <li key={key}>
            <a class="push" href={writeAddress(['station', ...key.split('/')])}>
              {key.slice(key.indexOf('/') + 1)} <span class="aside">{key.slice(0, key.indexOf('/'))}</span>
            </a>
          </li>
        ))}
      </ul>
      <p>
        <a class="push" href="#/">
          Seamwarden
        </a>
      </p>
    </div>
  );
}
