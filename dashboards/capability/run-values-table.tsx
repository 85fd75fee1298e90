import type { JSX } from 'preact';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { writeAddress } from '../shared/address.js';
import { TableHead } from '../shared/list-parts.js';
import { Mark } from '../shared/mark.js';
import { formatDateTime } from '../shared/times.js';
import { decimalsOf, formatNumber, inUnit, unitOf } from '../shared/units.js';
import { capabilityWords } from './capability-words.js';
import { measureOf, type PointSignal } from './point-signal.js';

/** A mark and words for what a value is marked by. */
export function SignalText({ signal }: { readonly signal: PointSignal }): JSX.Element {
  const say = capabilityWords();
  if (signal === null) return <>{say.ordinary}</>;
  return <span class="signal"><Mark name={signal === 'limit' ? 'alert' : 'square'} /> {signal === 'limit' ? say.limitSignal : say.inStretch}</span>;
}

/** The chart as a table: every run with its value, when it ended and by what it is marked; each leads to the run. */
export function RunValuesTable({ answer, signals }: { readonly answer: CapabilityAnswer; readonly signals: readonly PointSignal[] }): JSX.Element {
  const say = capabilityWords();
  const measure = measureOf(answer.quantity);
  return (
    <section class="part">
      <h2>{say.table()}</h2>
      <table class="capability-table">
        <caption class="unseen">{say.intro()}</caption>
        <TableHead columns={[{ name: say.number, number: true }, { name: say.value, number: true, unit: unitOf(measure) }, say.ended, say.signal]} />
        <tbody>
          {answer.runs.map(({ id, value, endedAt }, at) => (
            <tr key={id}>
              <td class="number">{at + 1}</td>
              <td class="number">{formatNumber(inUnit(measure, value), decimalsOf(measure) + 1)}</td>
              <th scope="row"><a href={writeAddress(['run', id])}>{formatDateTime(endedAt)}</a></th>
              <td>{signals[at] === undefined || signals[at] === null ? '' : <SignalText signal={signals[at]} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
