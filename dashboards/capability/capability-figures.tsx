import type { JSX } from 'preact';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { absentText, whyAbsent } from '../run/figures/absent-text.js';
import { decimalsOf, formatNumber, inUnit, noValue, unitOf } from '../shared/units.js';
import { capabilityWords } from './capability-words.js';
import { measureOf } from './point-signal.js';

/** Deviations are shown with more decimals than the values they come from. */
const moreDecimals = 2;

interface Row {
  readonly name: string;
  readonly key: string;
  readonly text: string | null;
  readonly more?: string;
}

/** What follows from the values, each with what it is, or why there is none. */
export function CapabilityFigures({ answer }: { readonly answer: CapabilityAnswer }): JSX.Element {
  const say = capabilityWords();
  const measure = measureOf(answer.quantity);
  const unit = unitOf(measure);
  const amount = (value: number | null | undefined): string | null => (value === null || value === undefined ? null : formatNumber(inUnit(measure, value), decimalsOf(measure) + moreDecimals));
  const measured = (value: number | null | undefined): string | null => {
    const text = amount(value);
    return text === null ? null : `${text}\u00a0${unit}`;
  };
  const index = (value: number | null): string | null => (value === null ? null : formatNumber(value, 2));
  const { limits, window } = answer;
  const rows: readonly Row[] = [
    { key: 'mean', name: say.mean, text: measured(answer.mean) },
    { key: 'limits', name: say.lowerControl, text: measured(limits?.lower) },
    { key: 'limits', name: say.upperControl, text: measured(limits?.upper) },
    { key: 'standardDeviation', name: say.deviation, text: measured(answer.standardDeviation), more: say.deviationMore },
    { key: 'movingRange', name: say.movingRange, text: measured(answer.movingRange), more: say.movingRangeMore() },
    { key: 'spread', name: say.spread(), text: measured(answer.spread), more: say.spreadMore },
    { key: 'window', name: say.limitsLabel, text: window === null ? null : `${amount(window.min) ?? noValue} … ${amount(window.max) ?? noValue}\u00a0${unit}`, more: say.limitsMore() },
    { key: 'cp', name: 'Cp', text: index(answer.cp), more: say.cpMore() },
    { key: 'cpk', name: 'Cpk', text: index(answer.cpk), more: say.cpkMore },
    { key: 'pp', name: 'Pp', text: index(answer.pp), more: say.ppMore },
    { key: 'ppk', name: 'Ppk', text: index(answer.ppk), more: say.ppkMore },
  ];
  return (
    <section class="part">
      <h2>{say.figures}</h2>
      <table class="capability-table capability-figures">
        <tbody>
          {rows.map(({ key, name, text, more }) => {
            const why = text === null ? whyAbsent(answer, key) : undefined;
            return (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td class="number">{text ?? noValue}</td>
                <td class="aside">{why === undefined ? more : absentText(why)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p class="aside">{say.terms}</p>
    </section>
  );
}
