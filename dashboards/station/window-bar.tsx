import type { JSX } from 'preact';
import type { Window } from '../shared/windows-in-force.js';
import { unitOf, type ShownQuantity } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { limitDigits } from '../shared/live-text.js';
import { stationWords } from './station-words.js';
import { barScale, shareOf } from '../shared/window-place.js';

/** The permitted range with its ends in digits, and where the value lies in it. The same is shown in words beside it. */
export function WindowBar({ name, window, value }: { readonly name: ShownQuantity; readonly window: Window; readonly value: number | null }): JSX.Element {
  const scale = barScale(window);
  const from = window.min === undefined ? 0 : shareOf(scale, window.min);
  const to = window.max === undefined ? 1 : shareOf(scale, window.max);
  return (
    <div class="window-bar">
      <span class="unseen">{wordsOf(stationWords).range(window.min === undefined ? null : limitDigits(name, window.min), window.max === undefined ? null : limitDigits(name, window.max), unitOf(name))}</span>
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
