import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { unitSystem } from '../shared/choices.js';
import { wordsOf } from '../shared/words.js';
import { AlarmFields } from './alarm-fields.js';
import type { Draft, GroupDraft } from './draft.js';
import { draftOf, freshKey, newArc, newGroup } from './draft.js';
import { Field } from './fields.js';
import { FormContext } from './form-context.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { GroupFields } from './group-fields.js';
import { SavePart } from './save-part.js';
import type { Editor } from './use-editor.js';

/** The form of a procedure, to be typed into and saved. */
export function ProcedureForm({ editor }: { readonly editor: Editor }): JSX.Element {
  const form = useRef<HTMLFormElement>(null);
  useLayoutEffect(() => {
    if (editor.focusTurn > 0) form.current?.querySelector<HTMLElement>('[aria-invalid=true]')?.focus();
  }, [editor.focusTurn]);
  return (
    <FormContext.Provider value={{ wrong: editor.wrong, readOnly: false }}>
      <form
        class="procedure"
        ref={form}
        noValidate
        onKeyDown={(event) => {
          // Enter in a field saves nothing: what is saved stays for good.
          if (event.key === 'Enter' && event.target instanceof HTMLInputElement) event.preventDefault();
        }}
        onSubmit={(event) => {
          event.preventDefault();
          void editor.save([...event.currentTarget.querySelectorAll<HTMLElement>('[data-field]')].map((input) => input.dataset['field'] ?? ''));
        }}
      >
        <Parts draft={editor.draft} isNew={editor.base === null} change={editor.change} />
        <SavePart editor={editor} section={topSection(editor.draft, editor.change)} />
      </form>
    </FormContext.Provider>
  );
}

/** A revision in the same order, to be read. */
export function ReadProcedure({ procedure }: { readonly procedure: Procedure }): JSX.Element {
  return (
    <FormContext.Provider value={{ wrong: new Map(), readOnly: true }}>
      <div class="procedure">
        <Parts draft={draftOf(procedure)} isNew={false} change={() => undefined} />
      </div>
    </FormContext.Provider>
  );
}

type Change = Editor['change'];

function topSection(draft: Draft, change: Change): Section {
  return { prefix: '', fields: draft.fields, set: (name, entry) => { change((own) => ({ ...own, fields: { ...own.fields, [name]: entry } }), name); } };
}

function Parts({ draft, isNew, change }: { readonly draft: Draft; readonly isNew: boolean; readonly change: Change }): JSX.Element {
  const say = wordsOf(formWords);
  const section = topSection(draft, change);
  return (
    <>
      <section class="part">
        <h2>{say.general}</h2>
        <div class="fields">
          {isNew && <Field section={section} name="id" label={say.id} hint={say.idHint} />}
          <Field section={section} name="title" label={say.title} wide />
          <Field section={section} name="process" label={say.process} hint={say.processHint} />
          <Field section={section} name="thermalEfficiency" label={say.thermalEfficiency} hint={say.thermalEfficiencyHint} />
          <Field section={section} name="qualificationRecord" label={say.qualificationRecord} />
          <Field section={section} name="weldingPosition" label={say.weldingPosition} hint={say.weldingPositionHint} />
        </div>
      </section>
      <Groups draft={draft} change={change} />
      <AlarmFields section={section} />
    </>
  );
}

function Groups({ draft, change }: { readonly draft: Draft; readonly change: Change }): JSX.Element {
  const say = wordsOf(formWords);
  const us = unitSystem.value === 'us';
  const [removed, setRemoved] = useState<{ readonly group: GroupDraft; readonly at: number } | null>(null);
  const add = useRef<HTMLButtonElement>(null);
  const back = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    if (removed !== null) back.current?.focus();
  }, [removed]);
  const onGroup = (key: number, own: (group: GroupDraft) => GroupDraft, touched: string | null): void => {
    change((all) => ({ ...all, groups: all.groups.map((group) => (group.key === key ? own(group) : group)) }), touched);
  };
  return (
    <section class="part">
      <h2>{say.runGroups(us)}</h2>
      <p class="aside">{say.runGroupsHint(us)}</p>
      {draft.groups.length === 0 && <p>{say.noGroups(us)}</p>}
      {draft.groups.map((group, at) => (
        <GroupFields
          key={group.key}
          group={group}
          at={at}
          count={draft.groups.length}
          onChange={(own, touched) => { onGroup(group.key, own, touched); }}
          onAddArc={() => { change((all) => ({ ...all, groups: all.groups.map((own) => (own.key === group.key ? { ...own, arcs: [...own.arcs, newArc(freshKey(all), own.arcs)] } : own)) }), null); }}
          onMove={(by) => { change((all) => ({ ...all, groups: all.groups.toSpliced(at, 1).toSpliced(at + by, 0, group) }), null); }}
          onRemove={() => {
            setRemoved({ group, at });
            change((all) => ({ ...all, groups: all.groups.toSpliced(at, 1) }), null);
          }}
        />
      ))}
      <FormContext.Consumer>
        {({ readOnly }) =>
          !readOnly && (
            <p class="tools">
              <button type="button" ref={add} onClick={() => { change((all) => ({ ...all, groups: [...all.groups, newGroup(freshKey(all))] }), null); }}>
                {say.addGroup(us)}
              </button>
              {removed !== null && (
                <span role="status">
                  {say.removed(say.group(us, removed.at + 1))}{' '}
                  <button
                    type="button"
                    ref={back}
                    onClick={() => {
                      change((all) => ({ ...all, groups: all.groups.toSpliced(removed.at, 0, removed.group) }), null);
                      setRemoved(null);
                      add.current?.focus();
                    }}
                  >
                    {say.putBack}
                  </button>
                </span>
              )}
            </p>
          )
        }
      </FormContext.Consumer>
    </section>
  );
}
