import type { Run } from '../../shared/api-types/run.js';
import type { Query } from '../shared/api.js';

/** Which runs are listed, as the address says it; empty text filters nothing. */
export interface RunFilter {
  /** Words, each of which the seam or the carriage holds. */
  readonly search: string;
  readonly state: '' | 'welding' | 'finished';
  /** First and last day on which a run began, `2026-11-25`, in the zone of the one who looks. */
  readonly from: string;
  readonly to: string;
  readonly site: string;
  readonly carriage: string;
  readonly seam: string;
  readonly assigned: '' | 'true' | 'false';
}

export function readFilter(query: URLSearchParams): RunFilter {
  const text = (name: string): string => query.get(name)?.trim() ?? '';
  return {
    search: text('search'),
    state: oneOf(query.get('state'), ['welding', 'finished'] as const),
    from: dayOf(query.get('from')),
    to: dayOf(query.get('to')),
    site: text('site'),
    carriage: text('carriage'),
    seam: text('seam'),
    assigned: oneOf(query.get('assigned'), ['true', 'false'] as const),
  };
}

export function isFiltered(filter: RunFilter): boolean {
  return Object.values(filter).some((value) => value !== '');
}

/** The filter as the API takes it. */
export function filterQuery({ from, to, ...rest }: RunFilter): Query {
  return { ...rest, from: startOfDay(from, 0), to: startOfDay(to, 1) };
}

/** Whether the list of that filter holds the run; the API judges alike. */
export function fits(filter: RunFilter, run: Pick<Run, 'state' | 'seam' | 'carriage' | 'site' | 'assigned' | 'startedAt'>): boolean {
  const [from, to] = [startOfDay(filter.from, 0), startOfDay(filter.to, 1)];
  return (
    (filter.state === '' || filter.state === run.state) &&
    (filter.seam === '' || filter.seam === run.seam) &&
    (filter.carriage === '' || filter.carriage === run.carriage) &&
    (filter.site === '' || filter.site === run.site) &&
    (filter.assigned === '' || filter.assigned === String(run.assigned)) &&
    (from === null || run.startedAt >= from) &&
    (to === null || run.startedAt < to) &&
    holdsWords(filter.search, [run.seam ?? '', run.carriage])
  );
}

/**
 * The list after a run has changed: replaced where it stands, taken out where it fits no more, put in by its start where it is new.
 * A run older than the last one listed waits for its page, unless there is none.
 */
export function withRun(runs: readonly Run[], run: Run, filter: RunFilter, hasMore: boolean): readonly Run[] {
  const at = runs.findIndex((own) => own.id === run.id);
  if (!fits(filter, run)) return at < 0 ? runs : runs.filter((own) => own.id !== run.id);
  if (at >= 0) return runs.with(at, run);
  const place = runs.findIndex((own) => own.startedAt <= run.startedAt);
  if (place >= 0) return runs.toSpliced(place, 0, run);
  return hasMore ? runs : [...runs, run];
}

/** Small and capital letters of ASCII alike, as the store compares them. */
function holdsWords(search: string, texts: readonly string[]): boolean {
  const plain = (text: string): string => text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
  return search.split(/\s+/).every((word) => texts.some((text) => plain(text).includes(plain(word))));
}

function oneOf<T extends string>(value: string | null, taken: readonly T[]): T | '' {
  return taken.find((own) => own === value) ?? '';
}

/** A day of the calendar, else nothing. */
function dayOf(text: string | null): string {
  return text !== null && /^\d{4}-\d\d-\d\d$/.test(text) && startOfDay(text, 0) !== null ? text : '';
}

/** RFC 3339 of the moment at which a day begins for the one who looks, or one that is so many days later. */
function startOfDay(day: string, later: number): string | null {
  const [year, month, date] = day.split('-').map(Number);
  if (year === undefined || month === undefined || date === undefined) return null;
  const at = new Date(year, month - 1, date);
  // A date that rolls over, as 30 February does, is none.
  if (at.getMonth() !== month - 1 || at.getFullYear() < 1970 || at.getFullYear() > 2105) return null;
  at.setDate(at.getDate() + later);
  return at.toISOString();
}
