import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { withUnit } from '../shared/quantities.js';
import { formatDateTime } from '../shared/times.js';
import { secondsFrom } from './run-places.js';
import { ShowPart } from './show-part.js';

/** Where the arc burned and nothing was received. */
export function DataGaps({ run }: { readonly run: Run }): JSX.Element {
  return (
    <section>
      <h2>Data gaps</h2>
      {run.dataGaps.length === 0 ? (
        <p class="none">{run.complete ? 'None: the data is complete.' : 'None while the arc was on, yet the data is not complete.'}</p>
      ) : (
        <ol class="events">
          {run.dataGaps.map((gap, at) => {
            const from = secondsFrom(run, gap.fromTime);
            const to = gap.toTime === null ? null : secondsFrom(run, gap.toTime);
            return (
              <li key={at}>
                Nothing received for <strong>{to === null ? 'a time that goes on' : withUnit('duration', to - from)}</strong>, from {formatDateTime(gap.fromTime)} at{' '}
                {withUnit('travelled', gap.fromTravelled)} to {withUnit('travelled', gap.toTravelled)}. It counts as not proven.{' '}
                <ShowPart run={run} what={`data gap ${at + 1}`} time={[from, to ?? from]} travelled={[gap.fromTravelled, gap.toTravelled]} />
              </li>
            );
          })}
        </ol>
      )}
    </section>
  );
}
