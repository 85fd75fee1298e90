import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { CarriageState } from '../shared/carriage-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { limitDigits, liveDigits, liveText } from '../shared/live-text.js';
import { Mark } from '../shared/mark.js';
import { now } from '../shared/now.js';
import { Reading, staleWords } from '../shared/reading.js';
import { seriesName } from '../shared/series-name.js';
import { shown, unitOf, type ShownQuantity } from '../shared/units.js';
import { useBox } from '../shared/use-box.js';
import { barScale, ownScale, placeIn, shareOf, type Window, type WindowPlace } from '../shared/window-place.js';
import { capital } from '../shared/words.js';
import { historySpan, type History, type Point } from './history.js';
import { layDigits, useDigitShape } from './lay-digits.js';
import './quantities.css';
import { stationQuantities, type StationQuantity } from './station-quantities.js';
import { stationWords } from './station-words.js';

/** As in quantities.css. */
const digitWeight = 600;

/** The values with their ranges, in digits as large as the room allows. Their room is what the fixed places leave, whatever is wrong. */
export function Quantities({ carriage, state, history }: { readonly carriage: Carriage; readonly state: CarriageState; readonly history: History }): JSX.Element {
  const shown = stationQuantities(carriage);
  const shape = useDigitShape(digitWeight);
  const { box, place } = useBox<HTMLDivElement>();
  // As in station.css, px.
  const type = Math.max(16, 0.016 * window.innerWidth);
  const layout = layDigits(shown.length, shape, box.width, box.height, window.innerWidth, type);
  return (
    <div class="quantity-room" ref={place}>
      <ul class="quantities" style={{ '--digits': `${layout.digits}px`, gridTemplateColumns: `repeat(${layout.columns}, minmax(0, 1fr))` }}>
        {shown.map((own) => <QuantityCell key={seriesName(own)} own={own} state={state} points={history.get(seriesName(own)) ?? []} />)}
      </ul>
    </div>
  );
}

/** A run shorter than this has no heat input, mm: a rule of computation. */
const firstHeat = 20;

/** One value in large digits, its range as a bar, where in the range it lies in words, and its recent past. */
function QuantityCell({ own, state, points }: { readonly own: StationQuantity; readonly state: CarriageState; readonly points: readonly Point[] }): JSX.Element {
  const say = stationWords();
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
  const say = stationWords();
  if (!on) return say.arcIsOff;
  if (value === null) return name === 'heatInput' ? say.fromOn(shown('length', firstHeat)) : say.noValue;
  if (window === null || place === null) return say.noLimits;
  if (place.side === 'above' || place.side === 'below') {
    return <><Mark name="alert" /> {say[place.side](liveText(name, place.by))}</>;
  }
  return place.side === 'inside' ? say.isInside : say[place.side];
}

/** When an arc goes out, its values leave their limits before anybody knows that it is out. This is known 0.3 s after it begins and published at most 0.2 s later, ms. */
const knownAfter = 600;

/** Whether a value is out and is `known` to be, or has been out for so long that the arc is not just going out. */
function useSettledOut(isOut: boolean, known: boolean): boolean {
  const since = useRef<number | null>(null);
  if (!isOut) since.current = null;
  else since.current ??= Date.now();
  // Reads `now`, so that it is redrawn when the time is up.
  const held = since.current !== null && Math.max(now.value, Date.now()) - since.current >= knownAfter;
  return isOut && (known || held);
}

const width = 600;
const height = 60;

/** The last 60 s, or 300 mm, of a value with its limits, so that drift and hunting are seen before the value leaves them. The newest is on the right; the value itself is shown beside it in digits. */
function Sparkline({ points, window, along, stale }: { readonly points: readonly Point[]; readonly window: Window | null; readonly along: boolean; readonly stale: boolean }): JSX.Element {
  const last = points.at(-1)?.at ?? 0;
  const span = along ? historySpan.length : historySpan.time;
  const scale = window === null ? ownScale(points.map(({ value }) => value)) : barScale(window);
  const y = (value: number): number => height * (1 - shareOf(scale, value));
  const line = points.map(({ at, value }) => `${(width * (1 - (last - at) / span)).toFixed(1)},${y(value).toFixed(1)}`).join(' ');
  return (
    <svg class={stale ? 'sparkline sparkline-stale' : 'sparkline'} viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="none" aria-hidden="true" focusable="false">
      {[window?.min, window?.max].map((limit, index) => (limit === undefined ? null : <line key={index} class="sparkline-limit" x1="0" x2={width} y1={y(limit)} y2={y(limit)} vector-effect="non-scaling-stroke" />))}
      {points.length > 1 && <polyline class="sparkline-line" points={line} vector-effect="non-scaling-stroke" />}
    </svg>
  );
}

/** The permitted range with its ends in digits, and where the value lies in it. The same is shown in words beside it. */
function WindowBar({ name, window, value }: { readonly name: ShownQuantity; readonly window: Window; readonly value: number | null }): JSX.Element {
  const scale = barScale(window);
  const from = window.min === undefined ? 0 : shareOf(scale, window.min);
  const to = window.max === undefined ? 1 : shareOf(scale, window.max);
  return (
    <div class="window-bar">
      <span class="unseen">{stationWords().range(window.min === undefined ? null : limitDigits(name, window.min), window.max === undefined ? null : limitDigits(name, window.max), unitOf(name))}</span>
      <div class="window-track" aria-hidden="true">
        <div class="window-inside" style={{ insetInlineStart: percent(from), width: percent(to - from) }}>
          <span>{window.min !== undefined && limitDigits(name, window.min)}</span>
          <span>{window.max !== undefined && limitDigits(name, window.max)}</span>
        </div>
        {value !== null && <div class="window-pointer" style={{ insetInlineStart: percent(shareOf(scale, value)) }} />}
      </div>
    </div>
  );
}

function percent(share: number): string {
  return `${(share * 100).toFixed(2)}%`;
}
