import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { writeAddress } from '../shared/address.js';
import { fetchRefused, fetchRuns } from '../shared/api.js';
import { goTo } from '../shared/current-address.js';
import { onRun } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { periodSpan, shiftAt } from '../shared/plant-days.js';
import { SelectField } from '../shared/form-parts.js';
import { plantShifts, plantZone } from '../shared/service-facts.js';
import { formatHour } from '../shared/times.js';
import { formatNumber, shown } from '../shared/units.js';
import { useAnswer } from '../shared/use-answer.js';
import { usePagedList } from '../shared/use-paged-list.js';
import { isKiosk, shownSite, sites } from './floor-state.js';
import { floorWords } from './floor-words.js';

/** What was welded in the current shift, or today if the plant has no shifts; what was refused, and which hall is shown. */
export function ShiftLine(): JSX.Element {
  const say = floorWords();
  const site = shownSite.value;
  const shifts = plantShifts.value;
  const shift = shiftAt(serverNow.value, plantZone.value, shifts);
  const [begins, ends] = periodSpan('shift', serverNow.value, plantZone.value, shifts);
  const counts = useCounts(site, begins);
  const period = shift === null ? 'today' : 'shift';
  const refused = useRefusedCount();
  const counted = (count: number): string => `${formatNumber(count, 0)}${counts?.partial === true ? '+' : ''}`;
  const link = (text: string, href: string): JSX.Element => (isKiosk.value ? <span>{text}</span> : <a href={href}>{text}</a>);
  return (
    <p class="floor-today">
      {counts !== null && (
        <span>
          {shift === null ? say.today : say.shift(shift.name, `${formatHour(begins)}–${formatHour(ends)}`)} {link(say.runsToday(counted(counts.runs)), writeAddress(['runs'], { period, site }))}
          {counts.withExcursions > 0 && <> · {link(say.excursionsToday(counted(counts.withExcursions)), writeAddress(['runs'], { period, site, excursions: 'true' }))}</>}
          {counts.runs > 0 && <> · {say.welded(`${shown('length', counts.length)}${counts.partial ? '+' : ''}`)}</>}
        </span>
      )}
      {refused > 0 && link(isKiosk.value ? say.refusedKiosk(formatNumber(refused, 0)) : say.refused(formatNumber(refused, 0)), '#/refused')}
      {!isKiosk.value && sites.value.length > 1 && (
        <SelectField
          label={`${say.hall} `}
          value={site}
          choices={[['', say.all], ...sites.value.map((hall) => [hall, hall] as const)]}
          onChoose={(hall) => { goTo(writeAddress([], { site: hall })); }}
        />
      )}
    </p>
  );
}

const every = 15_000;
/** For how long refused messages still matter to somebody, ms; common practice, no source. */
const concernFor = 86_400_000;

/** How many messages were refused in the last 24 h. */
function useRefusedCount(): number {
  const { value } = useAnswer(async (signal) => await fetchRefused({ since: new Date(serverNow.peek() - concernFor).toISOString(), limit: 1 }, signal), [], { every });
  return value?.total ?? 0;
}

/** What was welded in the runs that began since a time. */
interface Counts {
  readonly runs: number;
  readonly withExcursions: number;
  /** mm. */
  readonly length: number;
  /** Whether there were more than could be counted. */
  readonly partial: boolean;
}

/** The parts of a run that are kept: a monitor counts for weeks. */
type Counted = Pick<Run, 'id' | 'site' | 'startedAt' | 'excursions' | 'length'>;

const pageSize = 1000;

/** Counts the runs begun since a time, ms since 1970, in one hall or in all, and keeps the count up to date by the live feed; null until it is known. */
function useCounts(site: string, since: number): Counts | null {
  const { items, hasMore } = usePagedList<Counted>(
    {
      ask: async (page, signal) => {
        const answer = await fetchRuns({ from: new Date(since).toISOString(), site, ...page }, signal);
        return answer.ok ? { ok: true, value: { ...answer.value, items: answer.value.items.map(counted) } } : answer;
      },
      pageSize,
      hear: (listener) => onRun((run) => { listener(counted(run)); }),
      fits: (run) => Date.parse(run.startedAt) >= since && (site === '' || run.site === site),
      order: (a, b) => (a.startedAt < b.startedAt ? 1 : a.startedAt > b.startedAt ? -1 : 0),
    },
    [since, site],
  );
  if (items === null) return null;
  return { runs: items.length, withExcursions: items.filter(({ excursions }) => excursions > 0).length, length: items.reduce((sum, own) => sum + (own.length ?? 0), 0), partial: hasMore };
}

function counted({ id, site, startedAt, excursions, length }: Run): Counted {
  return { id, site, startedAt, excursions, length };
}
