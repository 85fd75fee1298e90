import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { handleSubmit } from '../shared/form-parts.js';
import { AlarmFields } from './alarm-fields.js';
import { Contents, groupPart, partIds } from './contents.js';
import { fieldName, groupTitle } from './field-name.js';
import { topRanges } from './field-specs.js';
import { Field, FormProblems, type Section } from './fields.js';
import { formWords } from './form-words.js';
import { GroupList } from './group-list.js';
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
          <p class="aside">{procedureWords().requiredMark}</p>
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
  const say = formWords();
  const around = procedureWords();
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

/** The general fields of a procedure, and its material, joint and flux. */
function GeneralFields({ section, isNew }: { readonly section: Section; readonly isNew: boolean }): JSX.Element {
  const say = formWords();
  return (
    <>
      <section class="part">
        <h2 id={partIds.general} tabIndex={-1}>{say.general}</h2>
        <div class="fields">
          {isNew && <Field section={section} name="id" label={say.id} hint={say.idHint} />}
          <Field section={section} name="title" label={say.title} wide />
          <Field section={section} name="process" label={say.process} hint={say.processHint} />
          <Field section={section} name="weldingPosition" label={say.weldingPosition} hint={say.weldingPositionHint} />
          <Field section={section} name="qualificationRecord" label={say.qualificationRecord} />
          <Field section={section} name="thermalEfficiency" label={say.thermalEfficiency} hint={say.thermalEfficiencyHint} />
        </div>
      </section>
      <section class="part">
        <h2 id={partIds.material} tabIndex={-1}>{say.material}</h2>
        <div class="fields">
          <Field section={section} name="parentMaterial" label={say.parentMaterial} hint={say.parentMaterialHint} wide />
          <Field section={section} name="parentMaterialGroup" label={say.parentMaterialGroup} hint={say.parentMaterialGroupHint} />
          {topRanges.map((name) => <RangeFields key={name} section={section} name={name} />)}
          <Field section={section} name="jointType" label={say.jointType} hint={say.jointTypeHint} />
          <Field section={section} name="jointPreparation" label={say.jointPreparation} hint={say.jointPreparationHint} wide />
          <Field section={section} name="backing" label={say.backing} />
          <Field section={section} name="fluxClassification" label={say.fluxClassification} hint={say.fluxClassificationHint} />
          <Field section={section} name="fluxRatio" label={say.fluxRatio} hint={say.fluxRatioHint} />
        </div>
      </section>
    </>
  );
}

function RangeFields({ section, name }: { readonly section: Section; readonly name: (typeof topRanges)[number] }): JSX.Element {
  const say = formWords();
  const hint = name === 'outsideDiameter' ? say.outsideDiameterHint : undefined;
  return (
    <>
      <Field section={section} name={`${name}.min`} label={fieldName(`${name}.min`)} hint={hint} />
      <Field section={section} name={`${name}.max`} label={fieldName(`${name}.max`)} hint={hint} />
    </>
  );
}
