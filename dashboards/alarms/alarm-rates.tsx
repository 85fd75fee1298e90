import type { JSX } from 'preact';
import { TableHead } from '../shared/list-parts.js';
import { formatNumber } from '../shared/units.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { wordsOf } from '../shared/words.js';
import { burdenOf, type Burden } from './alarm-rate.js';
import { alarmsWords } from './alarms-words.js';
import { useAlarmRates } from './use-alarm-rates.js';

const marks: Readonly<Record<Burden, MarkName>> = { bearable: 'empty', tooMany: 'warning', flood: 'alert' };

/** How many alarms each carriage raised, against what one person can bear. */
export function AlarmRates(): JSX.Element {
  const say = wordsOf(alarmsWords);
  const { rates, partial } = useAlarmRates();
  return (
    <section class="alarm-rates">
      <h2>{say.rate}</h2>
      {rates === null && <p>{say.loading}</p>}
      {rates?.length === 0 && <p>{say.rateNone}</p>}
      {rates !== null && rates.length > 0 && (
        <div class="scroll" tabIndex={0} role="region" aria-label={say.rateCaption}>
          <table class="rate-table">
            <TableHead columns={[say.carriageLabel, { name: say.lastTen, number: true }, { name: say.lastDay, number: true }, { name: say.worstTen, number: true }, say.judgement]} />
            <tbody>
              {rates.map((rate) => {
                const burden = burdenOf(rate);
                return (
                  <tr key={rate.key ?? 'all'} class={burden === 'bearable' ? undefined : 'heavy'}>
                    <th scope="row">{rate.key === null ? say.together : rate.key === '' ? say.service : rate.key}</th>
                    <td class="number">{formatNumber(rate.lastTen, 0)}</td>
                    <td class="number">{formatNumber(rate.lastDay, 0)}</td>
                    <td class="number">{formatNumber(rate.worstTen, 0)}</td>
                    <td class="burden"><Mark name={marks[burden]} /> {say[burden]}</td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      )}
      {partial && <p>{say.ratePartial}</p>}
      <details>
        <summary>{say.rateHelp}</summary>
        <p class="aside">{say.rateSource}</p>
      </details>
    </section>
  );
}
