import type { JSX } from 'preact';
import type { Refused } from '../../shared/api-types/entries.js';
import { writeAddress } from '../shared/address.js';
import { fetchRefused } from '../shared/api.js';
import { goTo } from '../shared/current-address.js';
import { formatNumber } from '../shared/units.js';
import { EmptyList, MoreButton, NotRead, TableHead } from '../shared/list-parts.js';
import { opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { PageHeading } from '../shared/page-heading.js';
import { handleSubmit, SelectField } from '../shared/form-parts.js';
import { formatClock, formatDateTime, formatZone } from '../shared/times.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
import './refused.css';
import { refusedWords } from './refused-words.js';

const hour = 3_600_000;
const spans = { hour, day: 24 * hour, week: 168 * hour } as const;
type Span = keyof typeof spans;

/** The messages that could not be used, and why; the address says how far back. */
export function RefusedPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = refusedWords();
  const asked = query.get('since');
  const span = asked === 'hour' || asked === 'day' || asked === 'week' ? asked : null;
  const list = useRefused(span === null ? null : spans[span]);
  const { items } = list;
  const shown = items === null ? '' : say.counted(formatNumber(items.length, 0), formatNumber(Math.max(items.length, list.total ?? 0), 0), formatClock(list.givenAt));
  return (
    <>
      <PageHeading title={say.heading} aside={items === null ? (list.failure === null ? say.loading : '') : shown} />
      <p class="refused-intro">{say.intro}</p>
      <form class="refused-filter" aria-label={say.which} onSubmit={handleSubmit(() => undefined)}>
        <SelectField
          label={`${say.since} `}
          value={span ?? ''}
          choices={[['', say.anyTime], ...(Object.keys(spans) as Span[]).map((name) => [name, say[name]] as const)]}
          onChoose={(since) => { goTo(writeAddress(['refused'], { since })); }}
        />
      </form>
      <NotRead of={list} />
      {items?.length === 0 && <EmptyList title={say.none}><p>{say.noneMore}</p></EmptyList>}
      {items !== null && items.length > 0 && <RefusedTable items={items} />}
      <MoreButton list={list}>{say.older}</MoreButton>
    </>
  );
}

function RefusedTable({ items }: { readonly items: readonly Refused[] }): JSX.Element {
  const say = refusedWords();
  return (
    <table class="refused">
      <caption class="unseen">{say.caption}</caption>
      <TableHead columns={[{ name: say.since, unit: formatZone(items[0]?.receivedAt ?? 0) }, say.topic, say.reasonLabel, { name: say.size, number: true }, say.head]} />
      <tbody>
        {items.map(({ id, receivedAt, topic, reason, size, head }) => (
          <tr key={id}>
            <td class="when">{formatDateTime(receivedAt)}</td>
            <td class="refused-topic"><code>{topic}</code></td>
            <td class="refused-reason">{reason}</td>
            <td class="number">{say.bytes(formatNumber(size, 0))}</td>
            <td><code>{head}</code></td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const pageSize = 100;
const every = 10_000;

/** What was refused within so many ms, the latest first, read anew from time to time; null for everything. */
function useRefused(within: number | null): PagedList<Refused> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchRefused({ since: within === null ? null : new Date(serverNow.peek() - within).toISOString(), ...page }, signal),
      pageSize,
      hear: null,
      fits: () => true,
      order: null,
    },
    [within],
    { by: [opened.value], every },
  );
}
