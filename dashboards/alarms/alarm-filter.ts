import type { Alarm, AlarmState } from '../../shared/api-types/alarm.js';
import type { Query } from '../shared/address.js';
import { arrivedAt, byArrival } from '../shared/standing-alarms.js';
import { isLasting } from '../shared/alarm-sentence.js';

export const states: readonly AlarmState[] = ['unacknowledged', 'acknowledged', 'returned', 'shelved', 'suppressed', 'normal'];
export const priorities: readonly Alarm['priority'][] = ['high', 'medium', 'low'];

const hour = 3_600_000;
/** How far back, by when the service heard of an alarm, ms. */
export const spans = { hour, shift: 8 * hour, day: 24 * hour, week: 168 * hour } as const;
export type Span = keyof typeof spans;
export const spanNames = ['hour', 'shift', 'day', 'week'] as const satisfies readonly Span[];

/** Which alarms are listed and in which order, from the address; empty text filters nothing. `active` means every alarm that is not over. */
export interface AlarmFilter {
  readonly state: AlarmState | 'active' | '';
  readonly priority: Alarm['priority'] | '';
  readonly site: string;
  readonly carriage: string;
  readonly seam: string;
  readonly within: Span | '';
  readonly order: '' | 'standing';
}

export function readFilter(query: URLSearchParams): AlarmFilter {
  const of = <T extends string>(name: string, taken: readonly T[]): T | '' => taken.find((own) => own === query.get(name)) ?? '';
  return {
    state: of('state', [...states, 'active'] as const),
    priority: of('priority', priorities),
    site: query.get('site') ?? '',
    carriage: query.get('carriage') ?? '',
    seam: query.get('seam')?.trim() ?? '',
    within: of('within', spanNames),
    order: of('order', ['standing'] as const),
  };
}

export function isFiltered(filter: AlarmFilter): boolean {
  return Object.entries(filter).some(([name, value]) => name !== 'order' && value !== '');
}

/** The filter as the API expects it at that server time, ms. */
export function filterQuery({ state, priority, site, carriage, seam, within }: AlarmFilter, at: number): Query {
  return {
    ...(state === 'active' ? { active: 'true' } : { state }),
    priority, site, carriage, seam,
    from: within === '' ? null : new Date(at - spans[within]).toISOString(),
  };
}

/** Whether an alarm passes the filter at that server time, ms. */
export function fits(filter: AlarmFilter, alarm: Alarm, at: number): boolean {
  const { state, within } = filter;
  return (
    (state === '' || (state === 'active' ? isLasting(alarm) : state === alarm.state)) &&
    (['priority', 'site', 'carriage', 'seam'] as const).every((name) => filter[name] === '' || filter[name] === alarm[name]) &&
    (within === '' || Date.parse(arrivedAt(alarm)) >= at - spans[within])
  );
}

/** Every state except normal still needs somebody to do something. */
export function isNotOver({ state }: Pick<Alarm, 'state'>): boolean {
  return state !== 'normal';
}

/** The order of the filter: newest first, or active ones before the others, each newest first. */
export function orderOf({ order }: Pick<AlarmFilter, 'order'>): (a: Alarm, b: Alarm) => number {
  return (a, b) => {
    if (order === 'standing' && isNotOver(a) !== isNotOver(b)) return isNotOver(a) ? -1 : 1;
    return byArrival(a, b);
  };
}
