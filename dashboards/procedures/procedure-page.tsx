import { signal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import type { Failure } from '../shared/api.js';
import { goTo } from '../shared/current-address.js';
import { Mark } from '../shared/mark.js';
import { wordsOf } from '../shared/words.js';
import { DifferenceList } from './difference-list.js';
import { differences } from './differences.js';
import { fetchRevision } from './procedure-api.js';
import { ProcedureForm, ReadProcedure } from './procedure-form.js';
import { procedureWords } from './procedure-words.js';
import './procedures.css';
import { RevisionList } from './revision-list.js';
import { useEditor } from './use-editor.js';

/** What was stored last; told on the page that is shown then, which may be another one. */
const stored = signal<Procedure | null>(null);

/** A procedure: its newest revision to be edited, older ones to be read. Without an id, or with `new`, a new one. */
export function ProcedurePage({ id, query }: { readonly id?: string | undefined; readonly query: URLSearchParams }): JSX.Element {
  const asked = Number(query.get('revision') ?? Number.NaN);
  const revision = Number.isInteger(asked) && asked > 0 ? asked : null;
  if (id === undefined || (id === 'new' && revision === null)) return <NewProcedure />;
  return <OneProcedure key={id} id={id} revision={revision} />;
}

function NewProcedure(): JSX.Element {
  const say = wordsOf(procedureWords);
  const title = `${say.newTitle} · Seamwarden`;
  useEffect(() => {
    document.title = title;
  }, [title]);
  const editor = useEditor(null, (procedure) => {
    stored.value = procedure;
    goTo(writeAddress(['procedure', procedure.id], procedure.id === 'new' ? { revision: 1 } : {}));
  });
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{say.newTitle}</h1>
        <a href="#/procedures">{say.allProcedures}</a>
      </div>
      {editor.restored !== undefined && <Restored base={editor.restored} discard={editor.discard} />}
      <ProcedureForm editor={editor} />
    </>
  );
}

interface Read {
  readonly newest: Procedure | null;
  readonly shown: Procedure | null;
  readonly before: Procedure | null;
  readonly failure: Failure | null;
}

const nothing: Read = { newest: null, shown: null, before: null, failure: null };

function OneProcedure({ id, revision }: { readonly id: string; readonly revision: number | null }): JSX.Element {
  const say = wordsOf(procedureWords);
  const [read, setRead] = useState<Read>(nothing);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    const abort = new AbortController();
    void readRevision(id, revision, abort.signal).then(
      (answer) => { setRead(answer); },
      () => undefined,
    );
    return () => {
      abort.abort();
    };
  }, [id, revision, turn]);
  const title = `${id} · Seamwarden`;
  useEffect(() => {
    document.title = title;
  }, [title]);
  useEffect(
    () => () => {
      stored.value = null;
    },
    [],
  );
  const { newest, shown, before, failure } = read;
  const isNewest = newest !== null && shown?.revision === newest.revision;
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{failure?.status === 404 && newest === null ? say.notThere : id}</h1>
        {shown !== null && (
          <p class="aside">
            {[shown.title, say.revision(shown.revision)].filter((text) => text !== undefined).join(' · ')}
          </p>
        )}
        <a href="#/procedures">{say.allProcedures}</a>
      </div>
      <p role="status" class="saved">
        {stored.value?.id === id && (
          <>
            <Mark name="full" /> {say.saved(id, stored.value.revision)}
          </>
        )}
      </p>
      {failure !== null && (
        <p class="empty">
          {failure.status === 404 ? (newest === null ? say.notThereMore(id) : say.revisionNotThere(id, revision ?? 0)) : failure.reason}{' '}
          {failure.status !== 404 && (
            <button type="button" onClick={() => { setTurn(turn + 1); }}>
              {say.askAgain}
            </button>
          )}
        </p>
      )}
      {newest === null && failure === null && <p>{say.asking}</p>}
      {newest !== null && <RevisionList newest={newest} shown={shown?.revision ?? 0} />}
      {shown !== null && (
        <section class="part">
          <h2>{shown.revision === 1 ? say.revision(1) : say.changed(shown.revision, shown.revision - 1)}</h2>
          {before === null ? shown.revision === 1 && <p>{say.first}</p> : <DifferenceList sentences={differences(before, shown)} before={before.revision} />}
        </section>
      )}
      {shown !== null && newest !== null && !isNewest && (
        <>
          <p>
            {say.older2} <a href={writeAddress(['procedure', id])}>{say.editNewest(newest.revision)}</a>
          </p>
          <ReadProcedure procedure={shown} />
        </>
      )}
      {shown !== null && isNewest && (
        <EditNewest
          key={shown.revision}
          newest={shown}
          onSaved={(procedure) => {
            stored.value = procedure;
            setRead({ newest: procedure, shown: procedure, before: shown, failure: null });
            if (procedure.revision !== shown.revision + 1) setTurn(turn + 1);
            window.scrollTo(0, 0);
            document.querySelector<HTMLElement>('h1')?.focus();
          }}
        />
      )}
    </>
  );
}

function EditNewest({ newest, onSaved }: { readonly newest: Procedure; readonly onSaved: (procedure: Procedure) => void }): JSX.Element {
  const editor = useEditor(newest, onSaved);
  return (
    <>
      {editor.restored !== undefined && <Restored base={editor.restored} discard={editor.discard} />}
      <ProcedureForm editor={editor} />
    </>
  );
}

function Restored({ base, discard }: { readonly base: number | null; readonly discard: () => void }): JSX.Element {
  const say = wordsOf(procedureWords);
  return (
    <p class="restored">
      {say.restored(base)}{' '}
      <button type="button" onClick={discard}>
        {say.discard}
      </button>
    </p>
  );
}

async function readRevision(id: string, revision: number | null, signal: AbortSignal): Promise<Read> {
  const newest = await fetchRevision(id, null, signal);
  if (!newest.ok) return { ...nothing, failure: newest.failure };
  const shown = revision === null || revision === newest.value.revision ? newest : await fetchRevision(id, revision, signal);
  if (!shown.ok) return { ...nothing, newest: newest.value, failure: shown.failure };
  const before = shown.value.revision === 1 ? null : await fetchRevision(id, shown.value.revision - 1, signal);
  return { newest: newest.value, shown: shown.value, before: before?.ok === true ? before.value : null, failure: null };
}
