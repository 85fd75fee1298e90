import type { JSX } from 'preact';
import { noValue } from '../shared/format.js';
import { unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { entryText, givenNumber } from './entry.js';
import { limitName } from './field-name.js';
import { limitQuantity, type WindowName } from './field-specs.js';
import { formWords } from './form-words.js';
import { NotMonitored } from './not-monitored.js';
import { metricText } from './value-text.js';

interface Limits {
  readonly min?: number | undefined;
  readonly max?: number | undefined;
}

/** The limits that are given, to be read. */
export function LimitTable({ limits, names, caption }: {
  readonly limits: Readonly<Partial<Record<WindowName, Limits | undefined>>>;
  readonly names: readonly WindowName[];
  readonly caption: string;
}): JSX.Element {
  const say = wordsOf(formWords);
  const given = names.filter((name) => limits[name] !== undefined);
  if (given.length === 0) return <p class="none">{say.noneOf(caption)}</p>;
  return (
    <table class="limit-table">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{say.quantity}</th>
          <th scope="col" class="number">{say.lowest}</th>
          <th scope="col" class="number">{say.highest}</th>
          <th scope="col">{say.unit}</th>
        </tr>
      </thead>
      <tbody>
        {given.map((name) => {
          const quantity = limitQuantity(name);
          return (
            <tr key={name}>
              <th scope="row">{limitName(name)} <NotMonitored name={name} /></th>
              {(['min', 'max'] as const).map((end) => <td key={end} class="number"><Limit name={name} value={limits[name]?.[end]} /></td>)}
              <td class="unit">{quantity === null ? '' : unitOf(quantity)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Limit({ name, value }: { readonly name: WindowName; readonly value: number | undefined }): JSX.Element {
  const quantity = limitQuantity(name);
  const stored = metricText(quantity, value);
  return (
    <>
      {value === undefined ? noValue : entryText(givenNumber(value), quantity).replace('-', '\u2212')}
      {stored !== null && <span class="stored">{stored}</span>}
    </>
  );
}
