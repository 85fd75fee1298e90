import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { procedureWords } from './procedure-words.js';
import type { Editor } from './use-editor.js';

/** Says that unsaved entries are back, and lets people discard them; that can be undone. */
export function Restored({ editor }: { readonly editor: Editor }): JSX.Element {
  const say = wordsOf(procedureWords);
  const { restored, discarded } = editor;
  return (
    <div role="status">
      {discarded !== null ? (
        <p class="restored">
          {say.discarded}{' '}
          <button type="button" onClick={editor.undoDiscard}>{say.undo}</button>
        </p>
      ) : (
        restored !== undefined && (
          <p class="restored">
            {say.restored(restored)}{' '}
            <button type="button" onClick={editor.discard}>{say.discard}</button>
          </p>
        )
      )}
    </div>
  );
}
