import { priorityWord, quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { unitSystem } from '../shared/choices.js';
import { noValue } from '../shared/format.js';
import { wordsOf } from '../shared/words.js';
import { valueAt } from './draft.js';
import { localName, specOf } from './field-specs.js';
import { formWords } from './form-words.js';
import { valueText } from './value-text.js';

const named = ['id', 'title', 'process', 'thermalEfficiency', 'qualificationRecord', 'weldingPosition', 'name', 'side', 'arc', 'currentType', 'polarity', 'wireDiameter', 'wires', 'offset', 'smoothing', 'onDelay', 'offDelay', 'deadband', 'heatInputLength', 'ignitionTime', 'ignitionLength', 'craterTime'] as const;

/** The field as the form labels it: "Voltage, lowest", "Deadband, share of the window". */
export function fieldName(path: string): string {
  const say = wordsOf(formWords);
  const us = unitSystem.value === 'us';
  const own = localName(path).replace(/^alarm\./, '');
  const window = /^windows\.(\w+)\.(priority|response)$/.exec(own);
  if (window !== null) return say.place([capital(quantityWord(window[1] ?? '')), window[2] === 'priority' ? say.priority : say.response]);
  const end = /^(\w+)\.(min|max)$/.exec(own);
  if (end !== null) return say.place([capital(quantityWord(end[1] ?? '')), end[2] === 'min' ? say.lowest : say.highest]);
  if (own === 'runs[0]' || own === 'runs[1]') return say[own](us);
  if (own === 'by') return own;
  const found = named.find((name) => name === own);
  return found === undefined ? capital(quantityWord(own)) : say[found];
}

/** The field with the group and arc that it belongs to: "Run group 1, Arc 2, Voltage, lowest". */
export function wholeFieldName(path: string): string {
  const say = wordsOf(formWords);
  const group = /^runGroups\[(\d+)\]/.exec(path)?.[1];
  const arc = /\.arcs\[(\d+)\]\./.exec(path)?.[1];
  return say.place([
    ...(group === undefined ? [] : [say.group(unitSystem.value === 'us', Number(group) + 1)]),
    ...(arc === undefined ? [] : [say.arcOf(String(Number(arc) + 1))]),
    fieldName(path),
  ]);
}

/** What a part of a procedure says for a field that is no window, in words. */
export function fieldText(part: unknown, name: string): string {
  const say = wordsOf(formWords);
  const value = valueAt(part, name);
  if (typeof value === 'number') return valueText(specOf(name).quantity, value);
  if (typeof value !== 'string') return noValue;
  if (name.endsWith('.priority') && (value === 'high' || value === 'medium' || value === 'low')) return priorityWord(value);
  return value === 'DC' || value === 'AC' || value === 'EP' || value === 'EN' ? say[value] : say.quoted(value);
}
