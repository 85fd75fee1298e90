import type { JSX } from 'preact';
import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import { Mark } from '../shared/mark.js';
import { formatDateTime } from '../shared/times.js';
import { DifferenceList } from './difference-list.js';
import { differences } from './differences.js';
import { bodyOf } from './draft-body.js';
import { wholeFieldName } from './field-name.js';
import { Field, type Section } from './fields.js';
import { partIds } from './contents.js';
import { procedureWords } from './procedure-words.js';
import { reasonText } from './field-problem.js';
import type { Editor } from './use-editor.js';

/** The revision that saving creates, what it changes, who makes it and why, and why the last attempt stored nothing. */
export function SavePart({ editor, section, leave }: { readonly editor: Editor; readonly section: Section; readonly leave: string }): JSX.Element {
  const say = procedureWords();
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

/** Why the last attempt stored nothing, with a link to each field that is wrong. */
function NotSaved({ editor }: { readonly editor: Editor }): JSX.Element {
  const say = procedureWords();
  const { wrong, elsewhere } = editor;
  const id = (editor.draft.fields['id']?.text ?? '').trim();
  return (
    <div class="not-saved">
      <p>
        <Mark name="warning" /> <strong>{outcomeText(editor)}</strong>{' '}
        {editor.outcome?.is === 'exists' && <a href={writeAddress(['procedure', id])}>{say.openIt(id)}</a>}
      </p>
      {wrong.size + elsewhere.length > 0 && (
        <ul>
          {[...wrong].map(([path, reasons]) => (
            <li key={path}>
              <button
                type="button"
                class="link"
                onClick={(event) => { event.currentTarget.form?.querySelector<HTMLElement>(`[data-field="${CSS.escape(path)}"]`)?.focus(); }}
              >
                {wholeFieldName(path)}
              </button>
              {': '}
              {reasons.map((reason) => reasonText(reason, path)).join(' ')}
            </li>
          ))}
          {elsewhere.map(({ field, reason }) => <li key={field}>{field}: {reasonText(reason, field)}</li>)}
        </ul>
      )}
    </div>
  );
}

function outcomeText({ outcome, base, draft, wrong, elsewhere }: Editor): string {
  const say = procedureWords();
  switch (outcome?.is) {
    case 'wrong': return say.wrongFields(wrong.size + elsewhere.length);
    case 'exists': return say.exists((draft.fields['id']?.text ?? '').trim());
    case 'same': return say.nothingToSave(base?.revision ?? 0);
    case 'meanwhile': return base === null ? '' : say.meanwhile(base.revision, base.by, formatDateTime(base.createdAt), base.revision + 1);
    case 'refused': return say.refused(outcome.status, outcome.detail);
    case 'unreached': return say.unreached;
    default: return '';
  }
}
