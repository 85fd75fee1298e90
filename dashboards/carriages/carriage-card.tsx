import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { carriageAt } from '../shared/carriages-now.js';
import { Mark } from '../shared/mark.js';
import { serverNow } from '../shared/now.js';
import { Simulated } from '../shared/simulated.js';
import { formatAge, formatDateTime } from '../shared/times.js';
import { carriageState } from '../shared/carriage-state.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { ArcValues } from './arc-values.js';
import { RunValues } from './run-values.js';

/** One carriage: what it does, on which seam, and its newest values. */
export function CarriageCard({ id }: { readonly id: string }): JSX.Element | null {
  const carriage = carriageAt(id)?.value;
  if (carriage === undefined) return null;
  const state = carriageState(carriage, serverNow.value);
  return (
    <article class={`card ${state.stale ? 'card-stale' : ''}`} aria-label={`Carriage ${carriage.carriage}, ${carriage.site}`} data-carriage={id}>
      <header>
        <h2>
          {carriage.carriage} <span class="site">{carriage.site}</span>
        </h2>
        {carriage.assignment?.simulated === true && <Simulated />}
        <p class={state.stale ? 'state state-stale' : 'state'}>
          <Mark name={state.mark} /> {state.words}
        </p>
      </header>
      <Task carriage={carriage} />
      <ArcValues arcs={carriage.arcs} state={state} />
      <RunValues carriage={carriage} state={state} />
      <p class="aside">{heard(carriage, state)}</p>
    </article>
  );
}

function Task({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const { assignment, run } = carriage;
  const link = run === null ? null : <a href={writeAddress(['run', run])}>{assignment === null ? 'Run without assignment' : `Run ${assignment.run}`}</a>;
  if (assignment === null) {
    return <p class="task">{link ?? 'No assignment is in force.'}</p>;
  }
  return (
    <p class="task">
      <span class="seam">{assignment.seam}</span> <span class="of-seam">{link ?? `Run ${assignment.run}, not begun`}</span>
      {assignment.procedure !== undefined && <span class="of-seam">Procedure {assignment.procedure}</span>}
    </p>
  );
}

function heard(carriage: Carriage, state: CarriageState): string {
  if (state.age === null) return 'Nothing has come from it yet.';
  return `Newest data ${formatAge(state.age)} old (${formatDateTime(carriage.lastSeen)})`;
}
