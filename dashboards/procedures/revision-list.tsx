import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { fetchRevision } from './procedure-api.js';
import { procedureWords } from './procedure-words.js';

const atOnce = 20;

/** Every revision with who made it and when, the newest first. */
export function RevisionList({ newest, shown }: { readonly newest: Procedure; readonly shown: number }): JSX.Element {
  const say = wordsOf(procedureWords);
  const [count, setCount] = useState(atOnce);
  const [known, setKnown] = useState<ReadonlyMap<number, Procedure>>(new Map());
  const listed = Array.from({ length: Math.min(count, newest.revision) }, (_, at) => newest.revision - at);
  useEffect(() => {
    const abort = new AbortController();
    const read = async (revision: number): Promise<void> => {
      const answer = await fetchRevision(newest.id, revision, abort.signal).catch(() => null);
      // Who made it is told when it is known; the revision itself can be opened all the same.
      if (answer?.ok === true && !abort.signal.aborted) setKnown((before) => new Map(before).set(revision, answer.value));
    };
    void Promise.all(listed.filter((revision) => revision !== newest.revision && !known.has(revision)).map(read));
    return () => {
      abort.abort();
    };
  }, [newest.id, newest.revision, count]);
  return (
    <nav class="revisions" aria-label={say.revisions}>
      <h2>{say.revisions}</h2>
      <ul>
        {listed.map((revision) => {
          const own = revision === newest.revision ? newest : known.get(revision);
          const href = writeAddress(['procedure', newest.id], revision === newest.revision ? {} : { revision });
          return (
            <li key={revision}>
              <a href={href} aria-current={revision === shown ? 'true' : undefined}>
                {say.revision(revision)}
              </a>
              {revision === newest.revision && ` (${say.newest})`} {own !== undefined && <span class="aside">{say.madeBy(own.by, formatDateTime(own.createdAt))}</span>}
              {revision === shown && <strong> {say.shownNow}</strong>}
            </li>
          );
        })}
      </ul>
      {count < newest.revision && (
        <button type="button" onClick={() => { setCount(count + atOnce); }}>
          {say.olderRevisions}
        </button>
      )}
    </nav>
  );
}
