import type { Alarm, AlarmState } from '../../shared/api-types/alarm.js';

export const states: readonly AlarmState[] = ['unacknowledged', 'acknowledged', 'returned', 'shelved', 'suppressed', 'normal'];

/** Which alarms are listed and in which order, as the address says it; empty text filters nothing. */
export interface AlarmFilter {
  readonly state: AlarmState | '';
  readonly site: string;
  readonly carriage: string;
  readonly order: '' | 'standing';
}

export function readFilter(query: URLSearchParams): AlarmFilter {
  const state = query.get('state');
  return {
    state: states.find((own) => own === state) ?? '',
    site: query.get('site') ?? '',
    carriage: query.get('carriage') ?? '',
    order: query.get('order') === 'standing' ? 'standing' : '',
  };
}

export function isFiltered({ state, site, carriage }: AlarmFilter): boolean {
  return state !== '' || site !== '' || carriage !== '';
}

export function fits(filter: AlarmFilter, alarm: Alarm): boolean {
  return (
    (filter.state === '' || filter.state === alarm.state) &&
    (filter.site === '' || filter.site === alarm.site) &&
    (filter.carriage === '' || filter.carriage === alarm.carriage)
  );
}

/** Every state but normal asks for something still. */
export function isStanding({ state }: Pick<Alarm, 'state'>): boolean {
  return state !== 'normal';
}

/** In the order of the filter: newest first, or the standing ones before the others and newest first among them. */
export function inOrder(alarms: readonly Alarm[], { order }: AlarmFilter): readonly Alarm[] {
  return [...alarms].sort((a, b) => {
    if (order === 'standing' && isStanding(a) !== isStanding(b)) return isStanding(a) ? -1 : 1;
    return a.raisedAt < b.raisedAt ? 1 : a.raisedAt > b.raisedAt ? -1 : 0;
  });
}

/**
 * The list after an alarm has changed: replaced where it stands, taken out where it fits no more, put in where it is new. One older than all that
 * is listed waits for its page, unless there is none or it is asked for out of turn.
 */
export function withAlarm(alarms: readonly Alarm[], alarm: Alarm, filter: AlarmFilter, hasMore: boolean): readonly Alarm[] {
  const held = alarms.some(({ id }) => id === alarm.id);
  if (!fits(filter, alarm)) return held ? alarms.filter(({ id }) => id !== alarm.id) : alarms;
  if (held) return inOrder(alarms.map((own) => (own.id === alarm.id ? alarm : own)), filter);
  const newer = alarms.length === 0 || alarms.some(({ raisedAt }) => raisedAt <= alarm.raisedAt);
  return newer || !hasMore || (filter.order === 'standing' && isStanding(alarm)) ? inOrder([...alarms, alarm], filter) : alarms;
}
