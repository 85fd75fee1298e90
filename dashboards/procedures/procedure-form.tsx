import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { handleSubmit } from '../shared/handle-submit.js';
import { wordsOf } from '../shared/words.js';
import { AlarmFields } from './alarm-fields.js';
import { Contents } from './contents.js';
import { groupTitle } from './field-name.js';
import { FormProblems, type Section } from './form-context.js';
import { formWords } from './form-words.js';
import { GeneralFields } from './general-fields.js';
import { GroupList } from './group-list.js';
import { groupPart, partIds } from './page-parts.js';
import { procedureWords } from './procedure-words.js';
import './procedure-form.css';
import { SavePart } from './save-part.js';
import type { Editor } from './use-editor.js';

/** The form of a procedure, to be typed into and saved. `leave` is where to go without saving. */
export function ProcedureForm({ editor, leave }: { readonly editor: Editor; readonly leave: string }): JSX.Element {
  const form = useRef<HTMLFormElement>(null);
  const { draft, change } = editor;
  useLayoutEffect(() => {
    if (editor.focusTurn > 0) form.current?.querySelector<HTMLElement>('[aria-invalid=true]')?.focus();
  }, [editor.focusTurn]);
  const section: Section = {
    prefix: '',
    fields: draft.fields,
    set: (name, entry) => { change((own) => ({ ...own, fields: { ...own.fields, [name]: entry } }), name); },
  };
  return (
    <FormProblems.Provider value={editor.wrong}>
      <div class="with-contents">
        <FormContents editor={editor} />
        <form
          class="procedure"
          ref={form}
          noValidate
          onKeyDown={(event) => {
            // Enter in a field saves nothing, as saved revisions stay for good.
            if (event.key === 'Enter' && event.target instanceof HTMLInputElement) event.preventDefault();
          }}
          onSubmit={handleSubmit((shown) => {
            void editor.save([...shown.querySelectorAll<HTMLElement>('[data-field]')].map((input) => input.dataset['field'] ?? ''));
          })}
        >
          <p class="aside">{wordsOf(procedureWords).requiredMark}</p>
          <GeneralFields section={section} isNew={editor.base === null} />
          <GroupList draft={draft} change={change} />
          <AlarmFields section={section} />
          <SavePart editor={editor} section={section} leave={leave} />
        </form>
      </div>
    </FormProblems.Provider>
  );
}

function FormContents({ editor }: { readonly editor: Editor }): JSX.Element {
  const say = wordsOf(formWords);
  const around = wordsOf(procedureWords);
  return (
    <Contents
      parts={[
        { id: partIds.general, name: say.general },
        { id: partIds.material, name: say.material },
        { id: partIds.groups, name: say.runGroups() },
        ...editor.draft.groups.map(({ fields }, at) => ({ id: groupPart(at), name: groupTitle(fields['name']?.text ?? '', at), below: true })),
        { id: partIds.alarms, name: say.alarmPart },
        { id: partIds.save, name: around.save },
      ]}
    />
  );
}
