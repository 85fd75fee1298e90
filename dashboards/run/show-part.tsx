import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { address, goTo } from '../shared/current-address.js';
import { onAxis } from './run-places.js';
import type { Stretch } from './run-places.js';
import { readView, viewAddress } from './run-view.js';

/** So much is shown on each side of the stretch: s, or mm. */
const around = { time: 5, travelled: 40, seamPosition: 40 } as const;

/** A press that shows a stretch of the run in the traces. */
export function ShowPart({ run, what, time, travelled }: Stretch & { readonly run: Run; readonly what: string }): JSX.Element | null {
  const { axis } = readView(address.value.query);
  const part = onAxis(run, axis, { time, travelled });
  if (part === null) return null;
  return (
    <button
      type="button"
      class="small"
      aria-label={`Show ${what} in the traces`}
      onClick={() => {
        goTo(viewAddress(run.id, { axis, from: part[0] - around[axis], to: part[1] + around[axis] }));
        const traces = document.getElementById('traces');
        traces?.scrollIntoView({ block: 'start' });
        traces?.focus({ preventScroll: true });
      }}
    >
      Show
    </button>
  );
}
