import type { JSX } from 'preact';
import { quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { staleWords } from '../shared/stale-words.js';
import { digitsOf, shown, unitOf } from '../shared/units.js';
import { placeIn } from '../shared/window-place.js';
import type { WindowPlace } from '../shared/window-place.js';
import { wordsOf } from '../shared/words.js';
import type { StationQuantity } from './station-quantities.js';
import { stationWords } from './station-words.js';
import { WindowBar } from './window-bar.js';

/** One value: large, with its range as a bar, and in words where in it the value lies. */
export function QuantityCell({ own, state }: { readonly own: StationQuantity; readonly state: CarriageState }): JSX.Element {
  const say = wordsOf(stationWords);
  const { name, arc, value, window } = own;
  const place = value === null || window === null || !own.on ? null : placeIn(window, value);
  const isOut = place !== null && place.by > 0 && !state.stale;
  const label = quantityWord(name);
  return (
    <li class={isOut ? 'quantity quantity-out' : 'quantity'} data-quantity={arc === null ? name : `${name} ${arc}`}>
      <p class="quantity-top">
        <span class="quantity-label">{capital(arc === null ? label : say.arc(label, arc))}</span>
        <span class={isOut ? 'quantity-place out-text' : 'quantity-place'}>{state.stale ? staleWords(state) : placeWords(own, place)}</span>
      </p>
      <p class="quantity-value">
        <span class="quantity-digits">
          <Reading text={digitsOf(name, value)} stale={state.stale} />
        </span>{' '}
        <span class="quantity-unit">{unitOf(name)}</span>
        {name === 'heatInput' && <span class="unseen">{say.newest(shown('length', 50))}</span>}
      </p>
      {window !== null && <WindowBar name={name} window={window} value={state.stale || !own.on ? null : value} />}
    </li>
  );
}

function placeWords({ name, value, window, on }: StationQuantity, place: WindowPlace | null): JSX.Element | string {
  const say = wordsOf(stationWords);
  if (!on) return say.arcIsOff;
  if (value === null) return say.noValue;
  if (window === null || place === null) return say.noWindow;
  if (place.side === 'above' || place.side === 'below') {
    return (
      <>
        <Mark name="alert" /> {say[place.side](shown(name, place.by))}
      </>
    );
  }
  return place.side === 'inside' ? say.isInside : say[place.side];
}
