import type { JSX } from 'preact';
import { quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { Mark } from '../shared/mark.js';
import { Reading } from '../shared/reading.js';
import { seriesName } from '../shared/series-name.js';
import { staleWords } from '../shared/stale-words.js';
import { shown, unitOf } from '../shared/units.js';
import { placeIn, type WindowPlace } from '../shared/window-place.js';
import { wordsOf } from '../shared/words.js';
import type { Point } from './history.js';
import { liveDigits, liveText } from '../shared/live-text.js';
import { Sparkline } from './sparkline.js';
import type { StationQuantity } from './station-quantities.js';
import { stationWords } from './station-words.js';
import { useSettledOut } from './use-settled-out.js';
import { WindowBar } from './window-bar.js';

/** A run shorter than this has no heat input, mm: a rule of computation. */
const firstHeat = 20;

/** One value in large digits, its range as a bar, where in the range it lies in words, and its recent past. */
export function QuantityCell({ own, state, points }: { readonly own: StationQuantity; readonly state: CarriageState; readonly points: readonly Point[] }): JSX.Element {
  const say = wordsOf(stationWords);
  const { name, arc, value, window } = own;
  const place = value === null || window === null || !own.on ? null : placeIn(window, value);
  const isOut = useSettledOut(place !== null && place.by > 0, own.alarmed) && !state.stale;
  const label = quantityWord(name);
  const shownPlace = place !== null && place.by > 0 && !isOut ? { side: place.side === 'above' ? ('nearHigh' as const) : ('nearLow' as const), by: 0 } : place;
  return (
    <li class={isOut ? 'quantity quantity-out' : 'quantity'} data-quantity={seriesName(own)}>
      <p class="quantity-top">
        <span class="quantity-label">{capital(arc === null ? label : say.arc(label, arc))}</span>
        <span class={isOut ? 'quantity-place out-text' : 'quantity-place'}>{state.stale ? staleWords(state) : placeWords(own, shownPlace)}</span>
      </p>
      <p class="quantity-value">
        <span class="quantity-digits"><Reading text={liveDigits(name, value)} stale={state.stale} /></span>{' '}
        <span class="quantity-unit">{unitOf(name)}</span>
        {name === 'heatInput' && <span class="unseen">{say.newest(shown('length', 50))}</span>}
      </p>
      <div class="quantity-below">
        {window !== null && <WindowBar name={name} window={window} value={state.stale || !own.on ? null : value} />}
        <Sparkline points={points} window={window} along={name === 'heatInput'} stale={state.stale} />
      </div>
    </li>
  );
}

function placeWords({ name, value, window, on }: StationQuantity, place: WindowPlace | null): JSX.Element | string {
  const say = wordsOf(stationWords);
  if (!on) return say.arcIsOff;
  if (value === null) return name === 'heatInput' ? say.fromOn(shown('length', firstHeat)) : say.noValue;
  if (window === null || place === null) return say.noLimits;
  if (place.side === 'above' || place.side === 'below') {
    return (
      <><Mark name="alert" /> {say[place.side](liveText(name, place.by))}</>
    );
  }
  return place.side === 'inside' ? say.isInside : say[place.side];
}
