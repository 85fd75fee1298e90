import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import { priorityWord } from '../shared/alarm-sentence.js';
import { alarmFields, valueAt } from './draft.js';
import { arcLimitNames, runLimitNames } from '../../shared/weld/quantities.js';
import { alarmDefaults, alarmNames, arcNames, limitQuantity, shapeNames, specOf, topNames, topRanges, type WindowName } from './field-specs.js';
import { fieldName, fieldText, limitName } from './field-name.js';
import { formWords } from './form-words.js';
import { valueText } from './value-text.js';

type Group = NonNullable<ProcedureBody['runGroups']>[number];
type Window = NonNullable<Group['travelSpeed']>;
type Windows = Partial<Record<WindowName, Window | undefined>>;

/** What differs between two revisions, one sentence for each difference; groups are matched by name and side, arcs by number. */
export function differences(before: ProcedureBody, after: ProcedureBody): string[] {
  return [
    ...fieldDifferences('', before, after, topNames),
    ...windowDifferences('', before, after, topRanges),
    ...groupDifferences(before.runGroups ?? [], after.runGroups ?? []),
    ...fieldDifferences('', before, after, alarmNames.map((name) => `alarm.${name}`)),
    ...fieldDifferences('', before, after, alarmFields),
  ];
}

function groupDifferences(before: readonly Group[], after: readonly Group[]): string[] {
  const say = formWords();
  const partners = matched(before, after);
  const gone = before.filter((_, at) => !partners.includes(at)).map((group) => say.gone(groupName(group, before.indexOf(group))));
  const rest = after.flatMap((group, at) => {
    const was = partners[at] ?? null;
    const old = was === null ? undefined : before[was];
    const name = groupName(group, at);
    if (was === null || old === undefined) return [say.added(name)];
    const [first = 0, last = 0] = group.runs;
    const [firstWas = 0, lastWas = 0] = old.runs;
    return [
      ...(was === at ? [] : [say.moved(name, was + 1, at + 1)]),
      ...(first === firstWas && last === lastWas ? [] : [say.differs(say.joined([name, say.runs()]), say.runsText(firstWas, lastWas), say.runsText(first, last))]),
      ...fieldDifferences(name, old, group, ['name', 'side', ...shapeNames]),
      ...windowDifferences(name, old, group, runLimitNames),
      ...arcDifferences(name, old, group),
    ];
  });
  return [...gone, ...rest];
}

function arcDifferences(group: string, before: Group, after: Group): string[] {
  const say = formWords();
  const nameOf = (arc: number): string => say.joined([group, say.arcOf(String(arc))]);
  const old = before.arcs ?? [];
  const own = after.arcs ?? [];
  return [
    ...old.filter(({ arc }) => !own.some((other) => other.arc === arc)).map(({ arc }) => say.gone(nameOf(arc))),
    ...own.flatMap((arc) => {
      const was = old.find((other) => other.arc === arc.arc);
      if (was === undefined) return [say.added(nameOf(arc.arc))];
      return [...fieldDifferences(nameOf(arc.arc), was, arc, arcNames), ...windowDifferences(nameOf(arc.arc), was, arc, arcLimitNames)];
    }),
  ];
}

/** For each new group, its place among the old ones: the group of the same name and side if there is exactly one on both sides, otherwise the group in the same place. */
function matched(before: readonly Group[], after: readonly Group[]): (number | null)[] {
  const keys = (groups: readonly Group[]): string[] => groups.map(({ name, side }) => `${name ?? ''}|${side ?? ''}`);
  const [old, own] = [keys(before), keys(after)];
  const alone = (all: readonly string[], key: string): boolean => all.indexOf(key) === all.lastIndexOf(key) && all.includes(key);
  const partners = own.map((key) => (alone(old, key) && alone(own, key) ? old.indexOf(key) : null));
  return partners.map((partner, at) => partner ?? (at < before.length && !partners.includes(at) ? at : null));
}

export function groupName(group: Pick<Group, 'name'>, at: number): string {
  const say = formWords();
  const title = say.group(at + 1);
  return group.name === undefined ? title : `${title} ${say.quoted(group.name)}`;
}

function fieldDifferences(where: string, before: unknown, after: unknown, names: readonly string[]): string[] {
  const say = formWords();
  return names.flatMap((name) => {
    if (valueAt(before, name) === valueAt(after, name)) return [];
    return [say.differs(where === '' ? fieldName(name) : say.joined([where, fieldName(name)]), textOrDefault(before, name), textOrDefault(after, name))];
  });
}

/** The value that applies; if the procedure leaves it out, the default, marked as one. */
export function textOrDefault(part: unknown, name: string): string {
  const say = formWords();
  if (valueAt(part, name) !== undefined) return fieldText(part, name);
  const setting = alarmNames.find((own) => name === `alarm.${own}`);
  if (setting !== undefined) return say.orDefault(valueText(specOf(name).quantity, alarmDefaults[setting]));
  if (name === 'thermalEfficiency' || name === 'fluxRatio' || name === 'recovery' || name.startsWith('shapeFactors.')) return say.orDefault('1');
  if (/^alarm\.windows\.\w+\.priority$/.test(name)) return say.orDefault(priorityWord('medium'));
  return name === 'side' ? say.bothSides : fieldText(part, name);
}

function windowDifferences(where: string, before: Windows, after: Windows, names: readonly WindowName[]): string[] {
  const say = formWords();
  return names.flatMap((name) => {
    const [was, is] = [before[name], after[name]];
    if (was?.min === is?.min && was?.max === is?.max) return [];
    return [say.differs(where === '' ? limitName(name) : say.joined([where, limitName(name)]), windowText(name, was), windowText(name, is))];
  });
}

/** "450 mm/min to 560 mm/min", "max 250 °C", "no limits". */
export function windowText(name: WindowName, window: Window | undefined): string {
  const say = formWords();
  const quantity = limitQuantity(name);
  if (window?.min === undefined) return window?.max === undefined ? say.noLimits : say.upTo(valueText(quantity, window.max));
  return window.max === undefined ? say.from(valueText(quantity, window.min)) : say.between(valueText(quantity, window.min), valueText(quantity, window.max));
}
