import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import { goTo } from '../shared/current-address.js';
import { NotRead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { useAnswer } from '../shared/use-answer.js';
import { wordsOf } from '../shared/words.js';
import { justSaved } from './just-saved.js';
import { fetchRevision } from './procedure-api.js';
import { ProcedureForm } from './procedure-form.js';
import { procedureAddress } from './procedure-address.js';
import { procedureWords } from './procedure-words.js';
import { Restored } from './restored.js';
import { useEditor } from './use-editor.js';

/** An empty procedure to be filled in, or the copy of a revision. */
export function NewProcedure({ from, revision }: { readonly from: string | null; readonly revision: number | null }): JSX.Element {
  const say = wordsOf(procedureWords);
  // Requested once, because a form begins with it.
  const read = useAnswer(from === null ? null : async (signal) => await fetchRevision(from, revision, signal), [from, revision], { by: [] });
  const { value: copied, failure } = read;
  return (
    <>
      <PageHeading title={copied === null ? say.newProcedure : say.copyTitle(copied.id, copied.revision)} tab={say.newProcedure}>
        <a href="#/procedures">{say.allProcedures}</a>
      </PageHeading>
      {from === null && <NewForm copied={null} />}
      {from !== null && copied === null && failure === null && <p>{say.loading}</p>}
      {copied !== null && <NewForm copied={copied} />}
      {failure?.status === 404 ? <p class="empty">{say.notThereMore(from ?? '')}</p> : <NotRead of={read} />}
    </>
  );
}

function NewForm({ copied }: { readonly copied: Procedure | null }): JSX.Element {
  const editor = useEditor(null, copied, (procedure) => {
    justSaved.value = procedure;
    goTo(procedureAddress(procedure.id, { revision: procedure.id === 'new' ? 1 : null }));
  });
  return (
    <>
      <Restored editor={editor} />
      <ProcedureForm editor={editor} leave={copied === null ? '#/procedures' : writeAddress(['procedure', copied.id])} />
    </>
  );
}
