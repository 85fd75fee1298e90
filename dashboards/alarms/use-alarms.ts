import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { fetchAlarms } from '../shared/api.js';
import { onAlarm, opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import type { AlarmFilter } from './alarm-filter.js';
import { filterQuery, fits, inOrder, isStanding, states, withAlarm } from './alarm-filter.js';

const pageSize = 50;
const allOfAState = 1000;

interface Listed {
  /** null until the first answer. */
  readonly alarms: readonly Alarm[] | null;
  /** How many the filter lets through. */
  readonly total: number;
  readonly next: string | null;
  readonly busy: boolean;
  readonly failure: string | null;
  /** Browser time of the newest answer or event, ms. */
  readonly givenAt: number;
}

export interface AlarmList extends Listed {
  readonly more: () => void;
  readonly again: () => void;
}

const nothing: Listed = { alarms: null, total: 0, next: null, busy: true, failure: null, givenAt: 0 };

/** The alarms of a filter, kept up to date by the live feed and read anew after the feed was lost. */
export function useAlarms(filter: AlarmFilter): AlarmList {
  const list = useSignal<Listed>(nothing);
  const turn = useRef(0);
  const { state, order } = filter;
  const asked = Object.values(filter).join('\n');

  const read = async (cursor: string | null): Promise<void> => {
    turn.current += 1;
    const own = turn.current;
    list.value = { ...list.peek(), busy: true, failure: null };
    const [page, standing] = await Promise.all([
      fetchAlarms({ ...filterQuery(filter, serverNow.peek()), limit: pageSize, cursor }),
      // Standing ones can be older than what a page holds.
      order === 'standing' && state === '' && cursor === null ? readStanding(filter) : [],
    ]);
    if (own !== turn.current) return;
    const before = list.peek();
    if (!page.ok) {
      list.value = { ...before, busy: false, failure: page.failure.reason };
      return;
    }
    const all = new Map([...(cursor === null ? [] : (before.alarms ?? [])), ...standing, ...page.value.items].map((alarm) => [alarm.id, alarm]));
    list.value = { alarms: inOrder([...all.values()], filter), total: page.value.total, next: page.value.next, busy: false, failure: null, givenAt: Date.now() };
  };

  useEffect(() => {
    list.value = nothing;
    void read(null);
    const stop = onAlarm((alarm) => {
      const { alarms, next, total } = list.peek();
      if (alarms === null) return;
      const after = withAlarm(alarms, alarm, filter, next !== null, serverNow.peek());
      list.value = { ...list.peek(), alarms: after, total: Math.max(after.length, total + after.length - alarms.length), givenAt: Date.now() };
    });
    return () => {
      stop();
      turn.current += 1;
    };
  }, [asked]);

  const times = opened.value;
  useEffect(() => {
    if (times > 1) void read(null);
  }, [times]);

  return {
    ...list.value,
    more: () => {
      const { next } = list.peek();
      if (next !== null) void read(next);
    },
    again: () => void read(null),
  };
}

async function readStanding(filter: AlarmFilter): Promise<readonly Alarm[]> {
  const answers = await Promise.all(states.filter((state) => isStanding({ state })).map(async (state) => await fetchAlarms({ ...filterQuery({ ...filter, state }, serverNow.peek()), limit: allOfAState })));
  return answers.flatMap((answer) => (answer.ok ? answer.value.items : [])).filter((alarm) => fits(filter, alarm, serverNow.peek()));
}
