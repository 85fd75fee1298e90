import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import { wordsOf } from '../shared/words.js';
import { ArcFields } from './arc-fields.js';
import type { ArcDraft, GroupDraft } from './draft.js';
import type { Entry } from './entry.js';
import { runLimitNames } from '../../shared/weld/quantities.js';
import { groupTitle } from './field-name.js';
import { Choice, Field } from './fields.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { groupPart } from './page-parts.js';
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
  const say = wordsOf(formWords);
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
      </div>
      <WindowTable section={section} names={runLimitNames} caption={say.windows} />
      <div class="arcs">
        {group.arcs.map((arc, arcAt) => (
          <ArcFields
            key={arc.key}
            section={{
              prefix: `runGroups[${at}].arcs[${arcAt}].`,
              fields: arc.fields,
              set: (own, entry) => { onChange((all) => ({ ...all, arcs: all.arcs.map((one) => (one.key === arc.key ? withEntry(one, own, entry) : one)) }), `runGroups[${at}].arcs[${arcAt}].${own}`); },
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

function withEntry(arc: ArcDraft, name: string, entry: Entry): ArcDraft {
  return { ...arc, fields: { ...arc.fields, [name]: entry } };
}
