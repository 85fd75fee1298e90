import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Refused } from '../../shared/api-types/entries.js';
import { fetchRefused } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';

const pageSize = 100;
const every = 10_000;

export interface RefusedList {
  /** null until the first answer. */
  readonly items: readonly Refused[] | null;
  readonly total: number;
  readonly next: string | null;
  readonly failure: string | null;
  /** Browser time of the newest answer, ms. */
  readonly givenAt: number;
  readonly more: () => void;
  readonly again: () => void;
}

/** What was refused within so many ms, the latest first, read anew from time to time; null for all there is. */
export function useRefused(within: number | null): RefusedList {
  const list = useSignal<Omit<RefusedList, 'more' | 'again'>>({ items: null, total: 0, next: null, failure: null, givenAt: 0 });
  const turn = useRef(0);
  const read = async (cursor: string | null): Promise<void> => {
    turn.current += 1;
    const own = turn.current;
    const since = within === null ? null : new Date(serverNow.peek() - within).toISOString();
    const answer = await fetchRefused({ since, cursor, limit: pageSize });
    if (own !== turn.current) return;
    const before = list.peek();
    if (!answer.ok) {
      list.value = { ...before, failure: answer.failure.reason };
      return;
    }
    const { items, next, total } = answer.value;
    // A first page read anew must not close what somebody has opened below it.
    const kept = before.items ?? [];
    const ids = new Set(items.map(({ id }) => id));
    const isOpened = cursor === null && kept.length > pageSize;
    const all = cursor === null ? (isOpened ? [...items, ...kept.filter(({ id }) => !ids.has(id))] : items) : [...kept, ...items];
    list.value = { items: all, total, next: isOpened ? before.next : next, failure: null, givenAt: Date.now() };
  };
  const times = opened.value;
  useEffect(() => {
    list.value = { ...list.peek(), items: null };
    void read(null);
    const timer = setInterval(() => void read(null), every);
    return () => {
      clearInterval(timer);
      turn.current += 1;
    };
  }, [within, times]);
  return {
    ...list.value,
    more: () => { if (list.peek().next !== null) void read(list.peek().next); },
    again: () => void read(null),
  };
}
