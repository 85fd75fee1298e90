import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { freshKey, newArc, newGroup, type Draft, type GroupDraft } from './draft.js';
import { formWords } from './form-words.js';
import { GroupFields } from './group-fields.js';
import { partIds } from './contents.js';
import type { Editor } from './use-editor.js';

/** The run groups in their order; a group that was removed can be brought back. */
export function GroupList({ draft, change }: { readonly draft: Draft; readonly change: Editor['change'] }): JSX.Element {
  const say = formWords();
  const [removed, setRemoved] = useState<{ readonly group: GroupDraft; readonly at: number } | null>(null);
  const add = useRef<HTMLButtonElement>(null);
  const back = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => { if (removed !== null) back.current?.focus(); }, [removed]);
  const onGroup = (key: number, own: (group: GroupDraft) => GroupDraft, touched: string | null): void => {
    change((all) => ({ ...all, groups: all.groups.map((group) => (group.key === key ? own(group) : group)) }), touched);
  };
  return (
    <section class="part">
      <h2 id={partIds.groups} tabIndex={-1}>{say.runGroups()}</h2>
      <p class="aside">{say.runGroupsHint()}</p>
      {draft.groups.length === 0 && <p>{say.noGroups()}</p>}
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
      <p class="tools">
        <button type="button" ref={add} onClick={() => { change((all) => ({ ...all, groups: [...all.groups, newGroup(freshKey(all))] }), null); }}>
          {say.addGroup()}
        </button>
        {removed !== null && (
          <span role="status">
            {say.removed(say.group(removed.at + 1))}{' '}
            <button
              type="button"
              ref={back}
              onClick={() => {
                change((all) => ({ ...all, groups: all.groups.toSpliced(removed.at, 0, removed.group) }), null);
                setRemoved(null);
                add.current?.focus();
              }}
            >
              {say.undo}
            </button>
          </span>
        )}
      </p>
    </section>
  );
}
