import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { Mark } from '../shared/mark.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { wholeFieldName } from './field-name.js';
import { procedureWords } from './procedure-words.js';
import { reasonText } from './reason-text.js';
import type { Editor } from './use-editor.js';

/** Why the last attempt stored nothing, with a link to each field that is wrong. */
export function NotSaved({ editor }: { readonly editor: Editor }): JSX.Element {
  const say = wordsOf(procedureWords);
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
  const say = wordsOf(procedureWords);
  switch (outcome?.is) {
    case 'wrong':
      return say.wrongFields(wrong.size + elsewhere.length);
    case 'exists':
      return say.exists((draft.fields['id']?.text ?? '').trim());
    case 'same':
      return say.nothingToSave(base?.revision ?? 0);
    case 'meanwhile':
      return base === null ? '' : say.meanwhile(base.revision, base.by, formatDateTime(base.createdAt), base.revision + 1);
    case 'refused':
      return say.refused(outcome.status, outcome.detail);
    case 'unreached':
      return say.unreached;
    default:
      return '';
  }
}
