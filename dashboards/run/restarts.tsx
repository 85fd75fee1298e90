import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatNumber } from '../shared/format.js';
import { withUnit } from '../shared/quantities.js';
import { formatDateTime } from '../shared/times.js';
import { secondsFrom } from './run-places.js';
import { ShowPart } from './show-part.js';

/** Where the arc went out and was lit again. */
export function Restarts({ run }: { readonly run: Run }): JSX.Element {
  return (
    <section>
      <h2>Restarts</h2>
      {run.restarts.length === 0 ? (
        <p class="none">None: no arc went out within the run.</p>
      ) : (
        <ol class="events">
          {run.restarts.map((restart, at) => (
            <li key={at}>
              <strong>Arc {restart.arc}</strong> went out at {withUnit('travelled', restart.stoppedTravelled)} ({formatDateTime(restart.stoppedAt)}) and was lit again at{' '}
              {withUnit('travelled', restart.restartedTravelled)} ({formatDateTime(restart.restartedAt)}): {overlapWords(restart.overlap)}
              {restart.positionConfirmed ? '.' : '; the places are computed from the speed, not measured.'}{' '}
              <ShowPart
                run={run}
                what={`restart ${at + 1}`}
                time={[secondsFrom(run, restart.stoppedAt), secondsFrom(run, restart.restartedAt)]}
                travelled={[restart.stoppedTravelled, restart.restartedTravelled]}
              />
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

function overlapWords(overlap: number | null): string {
  if (overlap === null) return 'how far it overlaps is not known';
  if (overlap < 0) return `${formatNumber(-overlap, 1)}\u00a0mm were left unwelded`;
  return `overlap ${formatNumber(overlap, 1)}\u00a0mm`;
}
