import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { noValue } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { valueAt } from './draft.js';
import { alarmNames, arcNames, localName, shapeNames, specOf, topNames, topRanges } from './field-specs.js';
import { formWords } from './form-words.js';
import { procedureWords } from './procedure-words.js';
import { valueText } from './value-text.js';

const named = ['id', ...topNames, ...topRanges, 'name', 'side', ...shapeNames, ...arcNames, ...alarmNames] as const;

/** The field as the form labels it: "Voltage, min", "On-delay". */
export function fieldName(path: string): string {
  const say = formWords();
  const own = localName(path).replace(/^alarm\./, '');
  const window = /^windows\.(\w+)\.(priority|response|responses\.zh|responses\.en)$/.exec(own);
  if (window !== null) return say.actionOf(capital(quantityWord(window[1] ?? '')), alarmPartName(window[2] ?? ''));
  const end = /^(\w+)\.(min|max)$/.exec(own);
  if (end !== null) return say.joined([limitName(end[1] ?? ''), (end[2] === 'min' ? say.lowest : say.highest).toLowerCase()]);
  if (own === 'runs[0]' || own === 'runs[1]') return say[own]();
  if (own === 'by' || own === 'reason') return procedureWords()[own];
  const found = named.find((name) => name === own);
  return found === undefined ? capital(quantityWord(own)) : say[found];
}

/** The quantity of a limit, or the range that the procedure covers, as the form labels it. */
export function limitName(name: string): string {
  const range = topRanges.find((own) => own === name);
  return range === undefined ? capital(quantityWord(name)) : formWords()[range];
}

function alarmPartName(part: string): string {
  const say = formWords();
  if (part === 'priority') return say.priorityLabel;
  if (part === 'response') return say.response;
  return part === 'responses.zh' ? say.responseZh : say.responseEn;
}

/** "Run group 1", with its name where it has one: "Run group 1: first side". */
export function groupTitle(name: string, at: number): string {
  const say = formWords();
  const title = say.group(at + 1);
  return name.trim() === '' ? title : say.named(title, name);
}

/** The field with the group and arc that it belongs to: "Run group 1, Arc 2, Voltage, min". */
export function wholeFieldName(path: string): string {
  const say = formWords();
  const group = /^runGroups\[(\d+)\]/.exec(path)?.[1];
  const arc = /\.arcs\[(\d+)\]\./.exec(path)?.[1];
  return say.joined([
    ...(group === undefined ? [] : [say.group(Number(group) + 1)]),
    ...(arc === undefined ? [] : [say.arcOf(String(Number(arc) + 1))]),
    fieldName(path),
  ]);
}

/** The same without quotes around texts. */
export function plainText(part: unknown, name: string): string {
  const value = valueAt(part, name);
  return typeof value === 'string' && name !== 'currentType' && name !== 'polarity' ? value : fieldText(part, name);
}

function isChoice(value: string): value is 'DC' | 'AC' | 'EP' | 'EN' {
  return value === 'DC' || value === 'AC' || value === 'EP' || value === 'EN';
}

/** The text of a field that is not a window. */
export function fieldText(part: unknown, name: string): string {
  const say = formWords();
  const value = valueAt(part, name);
  if (typeof value === 'number') return valueText(specOf(name).quantity, value);
  if (typeof value !== 'string') return noValue;
  if (name.endsWith('.priority') && (value === 'high' || value === 'medium' || value === 'low')) return priorityWord(value);
  return (name === 'currentType' || name === 'polarity') && isChoice(value) ? say[value] : say.quoted(value);
}
