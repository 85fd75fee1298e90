import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { fetchRevision } from '../shared/api.js';
import { address, goTo } from '../shared/current-address.js';
import { NotRead } from '../shared/list-parts.js';
import { useAnswer } from '../shared/use-answer.js';
import { DifferenceList } from './difference-list.js';
import { differences } from './differences.js';
import { partIds } from './contents.js';
import { procedureAddress } from './procedure-address.js';
import { procedureWords } from './procedure-words.js';

/** What differs between the revision that is shown and another, by default the previous one. */
export function CompareRevisions({ newest, shown, against }: { readonly newest: number; readonly shown: Procedure; readonly against: number | null }): JSX.Element {
  const say = procedureWords();
  const other = against ?? (shown.revision === 1 ? null : shown.revision - 1);
  const read = useAnswer(other === null || other === shown.revision ? null : async (signal) => await fetchRevision(shown.id, other, signal), [shown.id, other, shown.revision]);
  const { value: before, failure } = read;
  // The address has the revision requested last, while the page may still show the one before it.
  const show = (changed: { readonly revision?: number; readonly against?: number }): void => {
    const { query } = address.peek();
    const revision = changed.revision ?? Number(query.get('revision') ?? newest);
    goTo(procedureAddress(shown.id, { revision: revision === newest && shown.id !== 'new' ? null : revision, against: changed.against ?? against }));
  };
  return (
    <section class="part">
      <h2 id={partIds.compare} tabIndex={-1}>{say.compare}</h2>
      {newest > 1 && (
        <p class="tools">
          <Revisions label={say.compareOf} id="compare-of" newest={newest} value={shown.revision} onChange={(revision) => { show({ revision }); }} />
          <Revisions label={say.compareWith} id="compare-with" newest={newest} value={other} onChange={(revision) => { show({ against: revision }); }} />
        </p>
      )}
      {other === null && <p>{say.first}</p>}
      {other === shown.revision && <p>{say.changesNothing(other)}</p>}
      {failure?.status === 404 ? <p>{say.revisionNotThere(shown.id, other ?? 0)}</p> : <NotRead of={read} />}
      {before !== null && (
        <>
          <h3>{say.changed(shown.revision, before.revision)}</h3>
          <DifferenceList sentences={differences(before, shown)} before={before.revision} />
        </>
      )}
    </section>
  );
}

interface RevisionsProps {
  readonly label: string;
  readonly id: string;
  readonly newest: number;
  readonly value: number | null;
  readonly onChange: (revision: number) => void;
}

function Revisions({ label, id, newest, value, onChange }: RevisionsProps): JSX.Element {
  return (
    <>
      <label for={id}>{label}</label>
      <select id={id} value={value === null ? '' : String(value)} onChange={(event) => { if (event.currentTarget.value !== '') onChange(Number(event.currentTarget.value)); }}>
        {value === null && <option value="">–</option>}
        {Array.from({ length: newest }, (_, at) => newest - at).map((revision) => (
          <option key={revision} value={String(revision)}>{revision}</option>
        ))}
      </select>
    </>
  );
}
