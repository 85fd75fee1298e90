import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import { fetchRevision, type Answer } from '../shared/api.js';
import { goTo } from '../shared/current-address.js';
import { NotRead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { useAnswer, type AnswerNow } from '../shared/use-answer.js';
import { useHeadingFocus, usePageTitle } from '../shared/use-page-title.js';
import './procedures.css';
import { newestAddress, procedureAddress } from './procedure-address.js';
import { ProcedureForm } from './procedure-form.js';
import { procedureWords } from './procedure-words.js';
import { justSaved, ReadProcedure } from './read-procedure.js';
import { useEditor, type Editor } from './use-editor.js';

/**
 * The page of a procedure; with `edit=yes` the form that changes its latest revision. Without an id, or with `new`, it is the form for a new one, which `from` and `revision` make
 * a copy of another. `against` names the revision with which the shown one is compared.
 */
export function ProcedurePage({ id, query }: { readonly id?: string | undefined; readonly query: URLSearchParams }): JSX.Element {
  const revision = wholeOf(query.get('revision'));
  const from = query.get('from');
  if (id === undefined || (id === 'new' && revision === null && query.get('edit') === null)) return <NewProcedure key={`${from ?? ''}@${revision ?? ''}`} from={from} revision={revision} />;
  return <OneProcedure id={id} revision={revision} against={wholeOf(query.get('against'))} editing={query.get('edit') === 'yes'} />;
}

function wholeOf(text: string | null): number | null {
  const value = Number(text ?? Number.NaN);
  return Number.isInteger(value) && value > 0 ? value : null;
}

/** An empty procedure to be filled in, or the copy of a revision. */
function NewProcedure({ from, revision }: { readonly from: string | null; readonly revision: number | null }): JSX.Element {
  const say = procedureWords();
  // Requested once, because a form begins with it.
  const read = useAnswer(from === null ? null : async (signal) => await fetchRevision(from, revision, signal), [from, revision], { by: [] });
  const { value: copied, failure } = read;
  return (
    <>
      <PageHeading title={copied === null ? say.newProcedure : say.copyTitle(copied.id, copied.revision)} tab={say.newProcedure}>
        <a href="#/procedures">{say.allProcedures}</a>
      </PageHeading>
      {from === null && <Edit newest={null} copied={null} leave="#/procedures" />}
      {from !== null && copied === null && failure === null && <p>{say.loading}</p>}
      {copied !== null && <Edit newest={null} copied={copied} leave={writeAddress(['procedure', copied.id])} />}
      {failure?.status === 404 ? <p class="empty">{say.notThereMore(from ?? '')}</p> : <NotRead of={read} />}
    </>
  );
}

/** The form that makes the revision after `newest`, or a new procedure, which may begin as a copy. `leave` is where to go without saving. */
function Edit({ newest, copied, leave }: { readonly newest: Procedure | null; readonly copied: Procedure | null; readonly leave: string }): JSX.Element {
  const editor = useEditor(newest, copied, (procedure) => {
    justSaved.value = procedure;
    goTo(newestAddress(procedure));
  });
  return <><Restored editor={editor} /><ProcedureForm editor={editor} leave={leave} /></>;
}

interface OneProps {
  readonly id: string;
  /** Null for the latest. */
  readonly revision: number | null;
  readonly against: number | null;
  readonly editing: boolean;
}

/** One procedure: a revision to be read, or the next one to be made. */
function OneProcedure({ id, revision, against, editing }: OneProps): JSX.Element {
  const say = procedureWords();
  const read = useProcedure(id, editing ? null : revision, editing);
  const { newest, failure } = read;
  const saved = justSaved.value;
  // An answer from before the save is out of date.
  const isOld = !editing && saved?.id === id && newest !== null && newest.revision < saved.revision;
  const shown = isOld ? null : read.shown;
  usePageTitle(editing ? say.editTitle(id) : id);
  const heading = useRef<HTMLHeadingElement>(null);
  // Reading and editing are two pages of one address.
  useHeadingFocus(() => heading.current, [editing, revision]);
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1} ref={heading}>{failure?.status === 404 && newest === null ? say.notThere : editing ? say.editTitle(id) : id}</h1>
        {shown !== null && <p class="aside">{[shown.title, say.revision(shown.revision)].filter((text) => text !== undefined).join(' · ')}</p>}
        <a href="#/procedures">{say.allProcedures}</a>
      </div>
      {failure?.status === 404 && (
        <p class="empty">
          {newest === null ? say.notThereMore(id) : say.revisionNotThere(id, revision ?? 0)} {newest !== null && <a href={procedureAddress(id)}>{say.viewLatest}</a>}
        </p>
      )}
      {failure?.status !== 404 && <NotRead of={read} />}
      {(isOld || newest === null) && failure === null && <p>{say.loading}</p>}
      {newest !== null && shown !== null && (editing ? <Edit key={newest.revision} newest={newest} copied={null} leave={newestAddress(newest)} /> : <ReadProcedure key={shown.revision} newest={newest} shown={shown} against={against} />)}
    </>
  );
}

interface Read { readonly newest: Procedure; readonly shown: Answer<Procedure> }

type ProcedureNow = { readonly [name in 'newest' | 'shown']: Procedure | null } & Pick<AnswerNow<unknown>, 'failure' | 'asking' | 'again'>;

/**
 * The latest revision and the one to show, read again whenever `reading` changes; the earlier ones stay until then. They are not read again when the live
 * feed opens, as a form that somebody fills in begins with them.
 */
function useProcedure(id: string, revision: number | null, reading: boolean): ProcedureNow {
  const { value, failure, asking, again } = useAnswer(async (signal) => await readRevision(id, revision, signal), [id], { by: [revision, reading] });
  if (failure !== null || value === null) return { newest: null, shown: null, failure, asking, again };
  const { newest, shown } = value;
  return { newest, shown: shown.ok ? shown.value : null, failure: shown.ok ? null : shown.failure, asking, again };
}

async function readRevision(id: string, revision: number | null, signal: AbortSignal): Promise<Answer<Read>> {
  const newest = await fetchRevision(id, null, signal);
  if (!newest.ok) return newest;
  return { ok: true, value: { newest: newest.value, shown: revision === null || revision === newest.value.revision ? newest : await fetchRevision(id, revision, signal) } };
}

/** Says that unsaved entries are back, and lets people discard them; that can be undone. */
function Restored({ editor }: { readonly editor: Editor }): JSX.Element {
  const say = procedureWords();
  const { restored, discarded } = editor;
  return (
    <div role="status">
      {discarded !== null
        ? <p class="restored">{say.discarded} <button type="button" onClick={editor.undoDiscard}>{say.undo}</button></p>
        : restored !== undefined && <p class="restored">{say.restored(restored)} <button type="button" onClick={editor.discard}>{say.discard}</button></p>}
    </div>
  );
}
