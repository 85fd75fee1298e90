import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { Answer } from '../shared/api.js';
import { writeAddress } from '../shared/address.js';
import { goTo } from '../shared/current-address.js';
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
  const [copied, setCopied] = useState<Answer<Procedure> | null>(null);
  const title = `${say.newTitle} · Seamwarden`;
  useEffect(() => {
    document.title = title;
  }, [title]);
  useEffect(() => {
    const abort = new AbortController();
    if (from !== null) void fetchRevision(from, revision, abort.signal).then(setCopied, () => undefined);
    return () => {
      abort.abort();
    };
  }, [from, revision]);
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{copied?.ok === true ? say.copyTitle(copied.value.id, copied.value.revision) : say.newTitle}</h1>
        <a href="#/procedures">{say.allProcedures}</a>
      </div>
      {from === null && <NewForm copied={null} />}
      {from !== null && copied === null && <p>{say.asking}</p>}
      {copied?.ok === true && <NewForm copied={copied.value} />}
      {copied?.ok === false && <p class="empty">{copied.failure.status === 404 ? say.notThereMore(from ?? '') : copied.failure.reason}</p>}
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
