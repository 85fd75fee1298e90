import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { askedPreparation } from '../../shared/weld/preparation/preparation.js';
import { FactList } from '../shared/fact-list.js';
import { Mark } from '../shared/mark.js';
import { entryName, entryValue, missingWords } from '../shared/preparation-sentence.js';
import { preparationWords } from '../shared/preparation-words.js';
import { formatDateTime } from '../shared/times.js';

/** What was entered before arc start, and what was missing; nothing if the run is not assigned. */
export function PreparationList({ run }: { readonly run: Run }): JSX.Element | null {
  const say = preparationWords();
  const { assignment, preparation, arcs } = run;
  if (assignment === null || preparation == null) return null;
  const { missing } = preparation;
  // Entries asked for beyond the trade's were either missing or entered; the list of missing entries has the rest.
  const entered = askedPreparation(assignment, groupOfEntered(run), arcs.map(({ arc }) => arc)).filter(({ value }) => value !== null);
  const count = new Set([...arcs, ...(assignment.arcs ?? [])].map(({ arc }) => arc)).size;
  const { by, at } = assignment.preparation ?? {};
  return (
    <section>
      <h2>{say.preparation}</h2>
      {missing.length === 0 ? (
        <p class="none">{say.complete}</p>
      ) : (
        <>
          <p>{say.missing(missing.length)}</p>
          <ul class="open-checks">
            {missing.map((own) => (
              <li key={`${own.entry}${own.arc ?? ''}${own.against ?? ''}`}>
                <Mark name={own.reason === 'outside' ? 'alert' : 'empty'} /> {missingWords(own, count)}
              </li>
            ))}
          </ul>
        </>
      )}
      {entered.length > 0 && <h3>{say.entered}</h3>}
      <FactList look="run-facts" facts={entered.map((own) => [entryName(own, count), entryValue(own)])} />
      {at !== undefined && <p class="aside">{say.last(formatDateTime(at), by ?? null)}</p>}
    </section>
  );
}

/** A run group that asks for every entry that the assignment holds, whatever the procedure asks for: here they are only listed. */
function groupOfEntered({ assignment }: Run): { arcs: { arc: number; wireDiameter?: number }[]; preheat?: object } {
  const arcs = (assignment?.arcs ?? []).map(({ arc, wireDiameter }) => (wireDiameter === undefined ? { arc } : { arc, wireDiameter }));
  return { arcs, ...(assignment?.preparation?.preheatMeasured === undefined ? {} : { preheat: {} }) };
}
