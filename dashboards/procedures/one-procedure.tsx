import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { goTo } from '../shared/current-address.js';
import { NotRead } from '../shared/list-parts.js';
import { usePageTitle } from '../shared/use-page-title.js';
import { wordsOf } from '../shared/words.js';
import { justSaved } from './just-saved.js';
import { procedureAddress } from './procedure-address.js';
import { ProcedureForm } from './procedure-form.js';
import { procedureWords } from './procedure-words.js';
import { ReadProcedure } from './read-procedure.js';
import { Restored } from './restored.js';
import { useEditor } from './use-editor.js';
import { useProcedure } from './use-procedure.js';

interface OneProps {
  readonly id: string;
  /** Null for the latest. */
  readonly revision: number | null;
  readonly against: number | null;
  readonly editing: boolean;
}

/** One procedure: a revision to be read, or the next one to be made. */
export function OneProcedure({ id, revision, against, editing }: OneProps): JSX.Element {
  const say = wordsOf(procedureWords);
  const read = useProcedure(id, editing ? null : revision, editing);
  const { newest, failure } = read;
  const saved = justSaved.value;
  // An answer from before the save is out of date.
  const isOld = !editing && saved?.id === id && newest !== null && newest.revision < saved.revision;
  const shown = isOld ? null : read.shown;
  usePageTitle(editing ? say.editTitle(id) : id);
  const heading = useRef<HTMLHeadingElement>(null);
  const first = useRef(true);
  useEffect(() => {
    // Reading and editing are two pages of one address: focus goes to the heading as it does from page to page.
    if (first.current) first.current = false;
    else {
      window.scrollTo(0, 0);
      heading.current?.focus();
    }
  }, [editing, revision]);
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
      {newest !== null && shown !== null && (editing ? <EditNewest key={newest.revision} newest={newest} /> : <ReadProcedure key={shown.revision} newest={newest} shown={shown} against={against} />)}
    </>
  );
}

function EditNewest({ newest }: { readonly newest: Procedure }): JSX.Element {
  const editor = useEditor(newest, null, (procedure) => {
    justSaved.value = procedure;
    goTo(procedureAddress(procedure.id, { revision: procedure.id === 'new' ? procedure.revision : null }));
  });
  return (
    <>
      <Restored editor={editor} />
      <ProcedureForm editor={editor} leave={procedureAddress(newest.id, { revision: newest.id === 'new' ? newest.revision : null })} />
    </>
  );
}
