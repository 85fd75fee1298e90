import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { fetchAlarms, type Answer, type Page } from '../shared/api.js';
import { TableHead } from '../shared/list-parts.js';
import { onAlarm } from '../shared/live-feed.js';
import { formatNumber } from '../shared/units.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { serverNow } from '../shared/now.js';
import { arrivedAt, byArrival } from '../shared/standing-alarms.js';
import { usePagedList } from '../shared/use-paged-list.js';
import { alarmRates, burdenOf, oneDay, type Burden } from './alarm-rate.js';
import { alarmsWords } from './alarms-words.js';

const pageSize = 1000;
/** At most this many pages of one day are read: beyond that it is certainly a flood. */
const mostPages = 5;
const recountEvery = 5_000;

const marks: Readonly<Record<Burden, MarkName>> = { bearable: 'empty', tooMany: 'warning', flood: 'alert' };

/** How many alarms each carriage raised, whatever is listed above, against what one person can bear. */
export function AlarmRates(): JSX.Element {
  const say = alarmsWords();
  const { items, hasMore } = usePagedList({ ask: async ({ cursor }, signal) => await readDay(cursor, signal), pageSize, hear: onAlarm, fits: () => true, order: byArrival }, []);
  const at = Math.ceil(serverNow.value / recountEvery) * recountEvery;
  const rates = items === null ? null : alarmRates(items, at);
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
      {hasMore && <p>{say.ratePartial}</p>}
      <details><summary>{say.rateHelp}</summary><p class="aside">{say.rateSource}</p></details>
    </section>
  );
}

/** The alarms of the last day as one page; it has no next one where all of them were read. */
async function readDay(cursor: string | null, signal: AbortSignal): Promise<Answer<Page<Alarm>>> {
  const items: Alarm[] = [];
  let next = cursor;
  for (let page = 0; page < mostPages; page += 1) {
    const answer = await fetchAlarms({ limit: pageSize, cursor: next }, signal);
    if (!answer.ok) return answer;
    items.push(...answer.value.items);
    next = answer.value.next;
    const oldest = items.at(-1);
    if (next === null || oldest === undefined || serverNow.peek() - Date.parse(arrivedAt(oldest)) > oneDay) return { ok: true, value: { items, next: null } };
  }
  return { ok: true, value: { items, next } };
}
