import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { GroupDraft } from './draft.js';
import { entryText, noEntry } from './entry.js';
import { arcLimitNames, runLimitNames } from '../../shared/weld/quantities.js';
import { unitSystem } from '../shared/choices.js';
import { groupTitle } from './field-name.js';
import { Choice, Field, type Section } from './fields.js';
import { shapeNames } from './field-specs.js';
import { formWords } from './form-words.js';
import { groupPart } from './contents.js';
import { WindowTable } from './window-table.js';

interface GroupProps {
  readonly group: GroupDraft;
  readonly at: number;
  readonly count: number;
  /** `touched` is the path of the input that was typed into; null where the arcs change. */
  readonly onChange: (change: (group: GroupDraft) => GroupDraft, touched: string | null) => void;
  readonly onAddArc: () => void;
  readonly onMove: (by: -1 | 1) => void;
  readonly onRemove: () => void;
}

/** The runs that a group covers, its arcs and its windows. */
export function GroupFields({ group, at, count, onChange, onAddArc, onMove, onRemove }: GroupProps): JSX.Element {
  const say = formWords();
  const place = useRef<HTMLFieldSetElement>(null);
  const title = say.group(at + 1);
  const section: Section = {
    prefix: `runGroups[${at}].`,
    fields: group.fields,
    set: (name, entry) => { onChange((own) => ({ ...own, fields: { ...own.fields, [name]: entry } }), `runGroups[${at}].${name}`); },
  };
  return (
    <fieldset class="group" ref={place}>
      <legend id={groupPart(at)} tabIndex={-1}>{groupTitle(group.fields['name']?.text ?? '', at)}</legend>
      <p class="tools">
        <button type="button" aria-disabled={at === 0} aria-label={say.moveUp(title)} onClick={() => { if (at > 0) onMove(-1); }}>
          {say.up}
        </button>
        <button type="button" aria-disabled={at === count - 1} aria-label={say.moveDown(title)} onClick={() => { if (at < count - 1) onMove(1); }}>
          {say.down}
        </button>
        <button type="button" aria-label={say.removeNamed(title)} onClick={onRemove}>{say.remove}</button>
      </p>
      <div class="fields">
        <Field section={section} name="name" label={say.name} />
        <Choice section={section} name="side" label={say.sideLabel} choices={[['', say.bothSides], ['1', '1'], ['2', '2']]} />
        <Field section={section} name="runs[0]" label={say['runs[0]']()} />
        <Field section={section} name="runs[1]" label={say['runs[1]']()} />
        {shapeNames.map((name) => <Field key={name} section={section} name={name} label={say[name]} hint={say.ifEmpty('1')} />)}
      </div>
      <WindowTable section={section} names={runLimitNames} caption={say.windows} />
      <div class="arcs">
        {group.arcs.map((arc, arcAt) => (
          <ArcFields
            key={arc.key}
            section={{
              prefix: `runGroups[${at}].arcs[${arcAt}].`,
              fields: arc.fields,
              set: (own, entry) => { onChange((all) => ({ ...all, arcs: all.arcs.map((one) => (one.key === arc.key ? { ...one, fields: { ...one.fields, [own]: entry } } : one)) }), `runGroups[${at}].arcs[${arcAt}].${own}`); },
            }}
            onRemove={() => {
              onChange((all) => ({ ...all, arcs: all.arcs.filter((one) => one.key !== arc.key) }), null);
              place.current?.querySelector<HTMLElement>('[data-add-arc]')?.focus();
            }}
          />
        ))}
      </div>
      {group.arcs.length < 6 && <p class="tools"><button type="button" data-add-arc onClick={onAddArc}>{say.addArc}</button></p>}
    </fieldset>
  );
}

/** One arc of a run group. */
function ArcFields({ section, onRemove }: { readonly section: Section; readonly onRemove: () => void }): JSX.Element {
  const say = formWords();
  const name = say.arcOf(entryText(section.fields['arc'] ?? noEntry, null));
  return (
    <fieldset class="arc">
      <legend>{name}</legend>
      <div class="fields">
        <Field section={section} name="arc" label={say.arc} />
        <Choice section={section} name="currentType" label={say.currentType} choices={[['', say.notGiven], ['DC', say.DC], ['AC', say.AC]]} />
        <Choice section={section} name="polarity" label={say.polarity} choices={[['', say.notGiven], ['EP', say.EP], ['EN', say.EN]]} />
        <Field section={section} name="wireDiameter" label={say.wireDiameter} hint={unitSystem.value === 'us' ? say.wireDiameterHint : undefined} />
        <Field section={section} name="wireClassification" label={say.wireClassification} hint={say.wireClassificationHint} />
        <Field section={section} name="wires" label={say.wires} />
        <Field section={section} name="recovery" label={say.recovery} hint={say.recoveryHint} />
        <Field section={section} name="offset" label={say.offset} />
      </div>
      <WindowTable section={section} names={arcLimitNames} caption={say.arcWindows} />
      <p class="tools"><button type="button" onClick={onRemove} aria-label={say.removeNamed(name)}>{say.remove}</button></p>
    </fieldset>
  );
}
