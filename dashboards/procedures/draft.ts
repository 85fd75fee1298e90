import type { Procedure, ProcedureBody } from '../../shared/api-types/procedure.js';
import { givenNumber, noEntry, typedText, type Entry } from './entry.js';
import { alarmedNames, arcLimitNames, runLimitNames } from '../../shared/weld/quantities.js';
import { alarmNames, arcNames, groupNames, specOf, topNames, topRanges } from './field-specs.js';

/** Entries by their name within their part of the form. */
export type Fields = Readonly<Record<string, Entry>>;

export interface ArcDraft { readonly key: number; readonly fields: Fields }

export interface GroupDraft {
  /** Stays with the group while it is moved. */
  readonly key: number;
  readonly fields: Fields;
  readonly arcs: readonly ArcDraft[];
}

/** A procedure as it is being typed. */
export interface Draft { readonly fields: Fields; readonly groups: readonly GroupDraft[] }

const ends = ['min', 'max'] as const;

/** The fields of the form for the alarm of each quantity. */
export const alarmFields = alarmedNames.flatMap((name) => ['priority', 'response', 'responses.zh', 'responses.en'].map((part) => `alarm.windows.${name}.${part}`));

export const topFieldNames = [
  'id', ...topNames, 'by', 'reason',
  ...topRanges.flatMap((name) => ends.map((end) => `${name}.${end}`)),
  ...alarmNames.map((name) => `alarm.${name}`),
  ...alarmFields,
];
export const groupFieldNames = [...groupNames, ...runLimitNames.flatMap((name) => ends.map((end) => `${name}.${end}`))];
export const arcFieldNames = [...arcNames, ...arcLimitNames.flatMap((name) => ends.map((end) => `${name}.${end}`))];

/** An empty procedure with one run group and one arc to begin with. */
export function emptyDraft(): Draft {
  return { fields: {}, groups: [newGroup(1)] };
}

export function newGroup(key: number): GroupDraft {
  return { key, fields: {}, arcs: [newArc(key + 1, [])] };
}

/** The next arc, with the lowest number that is free. */
export function newArc(key: number, others: readonly ArcDraft[]): ArcDraft {
  const taken = others.map(({ fields }) => fields['arc']?.value);
  const free = [1, 2, 3, 4, 5, 6].find((number) => !taken.includes(number));
  return { key, fields: free === undefined ? {} : { arc: givenNumber(free) } };
}

/** A key that no group and no arc of the draft has. */
export function freshKey({ groups }: Draft): number {
  return Math.max(0, ...groups.flatMap(({ key, arcs }) => [key, ...arcs.map((arc) => arc.key)])) + 1;
}

/** A revision as a draft. Its author and reason are not carried over. */
export function draftOf(procedure: Procedure | ProcedureBody): Draft {
  let key = 0;
  return {
    fields: read(procedure, topFieldNames.filter((name) => name !== 'by' && name !== 'reason')),
    groups: (procedure.runGroups ?? []).map((group) => ({
      key: (key += 1),
      fields: read(group, groupFieldNames),
      arcs: (group.arcs ?? []).map((arc) => ({ key: (key += 1), fields: read(arc, arcFieldNames) })),
    })),
  };
}

/** A new procedure that begins as a copy of another; it needs an identifier of its own. */
export function copyOf(procedure: Procedure): Draft {
  const { fields, groups } = draftOf(procedure);
  return { fields: { ...fields, id: noEntry }, groups };
}

function read(source: unknown, names: readonly string[]): Fields {
  return Object.fromEntries(
    names.flatMap((name) => {
      const value = valueAt(source, name);
      if (typeof value === 'number') return [[name, givenNumber(value)]];
      return typeof value === 'string' ? [[name, specOf(name).is === 'text' ? typedText(value) : noEntry]] : [];
    }),
  );
}

/** The value at a path such as `runs[0]` or `alarm.windows.voltage.priority`. */
export function valueAt(source: unknown, path: string): unknown {
  return partsOf(path).reduce<unknown>((own, part) => (typeof own === 'object' && own !== null && Object.hasOwn(own, part) ? (own as Readonly<Record<string, unknown>>)[part] : undefined), source);
}

export function partsOf(path: string): string[] {
  return path.replaceAll(/\[(\d+)\]/g, '.$1').split('.');
}
