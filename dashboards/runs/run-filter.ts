import type { Run } from '../../shared/api-types/run.js';
import type { Query } from '../shared/address.js';
import { plantShifts, plantZone } from '../shared/service-facts.js';
import { periods, periodSpan, startOfDay, type Period } from '../shared/plant-days.js';

export const orders = ['startedAt', 'seam', 'length', 'excursions'] as const;
export type Order = (typeof orders)[number];

/** Which runs are listed and in which order, from the address; empty text filters nothing. */
export interface RunFilter {
  /** Words; the seam or the carriage must contain each of them. */
  readonly search: string;
  readonly state: '' | 'welding' | 'finished';
  /** One that moves with the calendar, else the first and last day on which a run began, `2026-11-25`; days of the plant. */
  readonly period: '' | Period;
  readonly from: string;
  readonly to: string;
  readonly site: string;
  readonly carriage: string;
  readonly seam: string;
  readonly run: string;
  readonly procedure: string;
  readonly operator: string;
  readonly lot: string;
  readonly excursions: '' | 'true' | 'false';
  readonly complete: '' | 'true' | 'false';
  readonly judged: '' | 'true' | 'false';
  readonly assigned: '' | 'true' | 'false';
  /** Empty: those begun last first. */
  readonly order: '' | Order;
  readonly direction: '' | 'asc' | 'desc';
}

const yesNo = ['true', 'false'] as const;

export function readFilter(query: URLSearchParams): RunFilter {
  const text = (name: string): string => query.get(name)?.trim() ?? '';
  const period = oneOf(query.get('period'), periods);
  const order = oneOf(query.get('order'), orders);
  return {
    search: text('search'),
    state: oneOf(query.get('state'), ['welding', 'finished'] as const),
    period,
    from: period === '' ? dayOf(query.get('from')) : '',
    to: period === '' ? dayOf(query.get('to')) : '',
    site: text('site'),
    carriage: text('carriage'),
    seam: text('seam'),
    run: /^[1-9]\d{0,3}$/.test(text('run')) ? text('run') : '',
    procedure: text('procedure'),
    operator: text('operator'),
    lot: text('lot'),
    excursions: oneOf(query.get('excursions'), yesNo),
    complete: oneOf(query.get('complete'), yesNo),
    judged: oneOf(query.get('judged'), yesNo),
    assigned: oneOf(query.get('assigned'), yesNo),
    order,
    direction: order === '' ? '' : oneOf(query.get('direction'), ['asc', 'desc'] as const),
  };
}

export function isFiltered(filter: RunFilter): boolean {
  return Object.values({ ...filter, order: '', direction: '' }).some((value) => value !== '');
}

/** How many of the filters that are folded away are set. */
export function moreFilters({ site, run, procedure, operator, lot, excursions, complete, judged, assigned }: RunFilter): number {
  return [site, run, procedure, operator, lot, excursions, complete, judged, assigned].filter((value) => value !== '').length;
}

/** Whether the days contradict each other, so that no run can fit. */
export function isBackwards({ from, to }: RunFilter): boolean {
  return from !== '' && to !== '' && from > to;
}

/** The filter as the API expects it. */
export function filterQuery(filter: RunFilter, { from, to }: Span): Query {
  return { ...filter, period: null, from, to };
}

/** RFC 3339; null where an end is open. */
export interface Span { readonly from: string | null; readonly to: string | null }

export function spanOf({ period, from, to }: RunFilter, now: number): Span {
  const zone = plantZone.value;
  const text = (at: number | null): string | null => (at === null ? null : new Date(at).toISOString());
  if (period === '') return { from: from === '' ? null : text(startOfDay(from, 0, zone)), to: to === '' ? null : text(startOfDay(to, 1, zone)) };
  const [begin, end] = periodSpan(period, now, zone, plantShifts.value);
  return { from: text(begin), to: text(end) };
}

/** Whether the list of that filter contains the run; the API uses the same rules. */
export function fits(filter: RunFilter, run: Run, now: number): boolean {
  const { from, to } = spanOf(filter, now);
  const { assignment } = run;
  const lots = [assignment?.fluxLot, ...(assignment?.arcs ?? []).map(({ wireLot }) => wireLot)];
  const same = (wanted: string, own: string | number | boolean | null | undefined): boolean => wanted === '' || wanted === String(own ?? '');
  return (
    same(filter.state, run.state) && same(filter.seam, run.seam) && same(filter.carriage, run.carriage) && same(filter.site, run.site) && same(filter.run, run.run) &&
    same(filter.assigned, run.assigned) && same(filter.complete, run.complete) && same(filter.judged, run.judged) && same(filter.excursions, run.excursions > 0) &&
    same(filter.procedure, assignment?.procedure) && same(filter.operator, assignment?.operator) &&
    (filter.lot === '' || lots.includes(filter.lot)) &&
    (from === null || run.startedAt >= from) &&
    (to === null || run.startedAt < to) &&
    holdsWords(filter.search, [run.seam ?? '', run.carriage])
  );
}

/** Those begun last first; null where they are sorted otherwise, as the service does it. */
export function orderOf({ order }: Pick<RunFilter, 'order'>): ((a: Run, b: Run) => number) | null {
  return order === '' ? (a, b) => (a.startedAt < b.startedAt ? 1 : a.startedAt > b.startedAt ? -1 : 0) : null;
}

/** Compares without regard to the case of ASCII letters, as the store does. */
function holdsWords(search: string, texts: readonly string[]): boolean {
  const plain = (text: string): string => text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
  return search.split(/\s+/).every((word) => texts.some((text) => plain(text).includes(plain(word))));
}

function oneOf<T extends string>(value: string | null, taken: readonly T[]): T | '' {
  return taken.find((own) => own === value) ?? '';
}

/** The text if it is a day of the calendar, otherwise an empty text. */
function dayOf(text: string | null): string {
  return text !== null && /^\d{4}-\d\d-\d\d$/.test(text) && startOfDay(text, 0, 'UTC') !== null ? text : '';
}
