import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { goTo } from '../../shared/current-address.js';
import type { Axis, RunView } from '../run-view.js';
import { viewAddress } from '../run-view.js';
import { zoomed } from './zoomed.js';

interface TraceControlsProps {
  readonly run: Run;
  readonly view: RunView;
  readonly ends: readonly [number, number];
  readonly cursor: number | null;
  readonly busy: boolean;
}

const axes: readonly (readonly [Axis, string])[] = [
  ['time', 'time'],
  ['travelled', 'mm travelled'],
  ['seamPosition', 'mm on the seam'],
];

/** Which axis, and which part of it; every step is an address, so Back undoes it. */
export function TraceControls({ run, view, ends, cursor, busy }: TraceControlsProps): JSX.Element {
  const show = (part: readonly [number, number] | null): void => {
    goTo(viewAddress(run.id, { ...view, from: part?.[0] ?? null, to: part?.[1] ?? null }));
  };
  const whole = view.from === null && view.to === null;
  return (
    <div class="controls">
      <h2>Traces</h2>
      <fieldset>
        <legend>over</legend>
        {axes.map(([axis, label]) => (
          <label key={axis}>
            <input type="radio" name="axis" checked={view.axis === axis} onChange={() => { goTo(viewAddress(run.id, { axis, from: null, to: null })); }} /> {label}
          </label>
        ))}
      </fieldset>
      <div class="steps" role="group" aria-label="Part that is shown">
        <button type="button" onClick={() => { show(zoomed(ends, 0.5, 0, cursor)); }}>Zoom in</button>
        <button type="button" disabled={whole} onClick={() => { show(zoomed(ends, 2, 0, cursor)); }}>Zoom out</button>
        <button type="button" disabled={whole} onClick={() => { show(zoomed(ends, 1, -0.5, null)); }}>Back</button>
        <button type="button" disabled={whole} onClick={() => { show(zoomed(ends, 1, 0.5, null)); }}>Onward</button>
        <button type="button" disabled={whole} onClick={() => { show(null); }}>Whole run</button>
      </div>
      <p class="aside" role="status">{busy ? 'Reading …' : ''}</p>
    </div>
  );
}
