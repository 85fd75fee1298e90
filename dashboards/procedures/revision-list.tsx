import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { ProcedureUsage } from '../../shared/api-types/procedure-usage.js';
import { fetchRevision } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { formatDateTime } from '../shared/times.js';
import { useAnswer } from '../shared/use-answer.js';
import { partIds } from './contents.js';
import { procedureAddress } from './procedure-address.js';
import { fetchUsage } from './procedure-api.js';
import { procedureWords } from './procedure-words.js';

const atOnce = 20;

/** Every revision with who made it, when, why, and how many runs use it, the latest first. */
export function RevisionList({ newest, shown, usage }: { readonly newest: Procedure; readonly shown: number; readonly usage: ProcedureUsage | null }): JSX.Element {
  const say = procedureWords();
  const [count, setCount] = useState(atOnce);
  const listed = Array.from({ length: Math.min(count, newest.revision) }, (_, at) => newest.revision - at);
  const { value: known } = useAnswer<ReadonlyMap<number, Procedure>>(
    async (signal, held) => {
      const before = held() ?? new Map<number, Procedure>();
      const answers = await Promise.all(listed.filter((revision) => revision !== newest.revision && !before.has(revision)).map(async (revision) => await fetchRevision(newest.id, revision, signal)));
      // The author is shown once it is known; the revision can be opened before that.
      return { ok: true, value: new Map([...before, ...answers.flatMap((answer) => (answer.ok ? [[answer.value.revision, answer.value] as const] : []))]) };
    },
    [newest.id, newest.revision],
    { by: [opened.value, count] },
  );
  return (
    <nav class="revisions" aria-label={say.revisions}>
      <h2 id={partIds.revisions} tabIndex={-1}>{say.revisions}</h2>
      <ul>
        {listed.map((revision) => {
          const own = revision === newest.revision ? newest : known?.get(revision);
          const href = procedureAddress(newest.id, { revision: revision === newest.revision && newest.id !== 'new' ? null : revision });
          return (
            <li key={revision}>
              <a href={href} aria-current={revision === shown ? 'true' : undefined}>{say.revision(revision)}</a>
              {revision === newest.revision && ` (${say.newest})`} {own !== undefined && <span class="aside">{say.madeBy(own.by, formatDateTime(own.createdAt))}</span>}{' '}
              {usage !== null && <span class="aside">· {say.usedBy(usedRuns(usage, revision))}</span>}
              {revision === shown && <strong> {say.shownNow}</strong>}
              {own?.reason !== undefined && <p class="reason">{own.reason}</p>}
            </li>
          );
        })}
      </ul>
      {count < newest.revision && <button type="button" onClick={() => { setCount(count + atOnce); }}>{say.olderRevisions}</button>}
    </nav>
  );
}

/** By how many runs each revision is used; null until it is known, and where it can't be. */
export function useUsage(id: string): ProcedureUsage | null {
  return useAnswer(async (signal) => await fetchUsage(id, signal), [id]).value;
}

/** Runs that use the revision, or any of them. */
export function usedRuns({ runs, revisions }: ProcedureUsage, revision: number | null): number {
  return revision === null ? runs : (revisions.find((own) => own.revision === revision)?.runs ?? 0);
}
