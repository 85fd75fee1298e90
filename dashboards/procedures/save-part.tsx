import type { JSX } from 'preact';
import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import { wordsOf } from '../shared/words.js';
import { DifferenceList } from './difference-list.js';
import { differences } from './differences.js';
import { bodyOf } from './draft-body.js';
import { Field } from './fields.js';
import type { Section } from './form-context.js';
import { NotSaved } from './not-saved.js';
import { partIds } from './page-parts.js';
import { procedureWords } from './procedure-words.js';
import type { Editor } from './use-editor.js';

/** The revision that saving creates, what it changes, who makes it and why, and why the last attempt stored nothing. */
export function SavePart({ editor, section, leave }: { readonly editor: Editor; readonly section: Section; readonly leave: string }): JSX.Element {
  const say = wordsOf(procedureWords);
  const { base, draft, busy } = editor;
  const next = (base?.revision ?? 0) + 1;
  return (
    <section class="part saving">
      <h2 id={partIds.save} tabIndex={-1}>{say.saveAs(next)}</h2>
      <p>{base === null ? say.willMakeFirst() : say.willMake(next)}</p>
      {base !== null && (
        <>
          <h3>{say.changed(next, base.revision)}</h3>
          <DifferenceList sentences={differences(base, bodyOf(draft).body as unknown as ProcedureBody)} before={base.revision} />
        </>
      )}
      <div class="fields">
        <Field section={section} name="by" label={say.yourName} hint={say.byHint} />
        {base !== null && <Field section={section} name="reason" label={say.reason} hint={say.reasonHint} wide />}
      </div>
      <p class="tools">
        <button type="submit" class="primary" aria-disabled={busy}>{busy ? say.saving : say.saveAs(next)}</button>
        <a class="action" href={leave}>{say.cancel}</a>
      </p>
      <div role="alert">{editor.outcome !== null && <NotSaved editor={editor} />}</div>
    </section>
  );
}
