import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { onRun, opened } from '../shared/live-feed.js';
import { plantZone } from '../shared/service-facts.js';
import { readListPlace } from './list-place.js';
import type { RunFilter } from './run-filter.js';
import { filterQuery, isBackwards, spanOf, withRun } from './run-filter.js';

const pageSize = 50;
/** The most that one answer holds. */
const largestPage = 1000;

interface Listed {
  /** null until the first answer. */
  readonly runs: readonly Run[] | null;
  readonly next: string | null;
  readonly busy: boolean;
  readonly failure: string | null;
  /** Browser time of the newest answer or event, ms. */
  readonly givenAt: number;
}

export interface RunList extends Listed {
  readonly more: () => void;
  readonly again: () => void;
}

const nothing: Listed = { runs: null, next: null, busy: true, failure: null, givenAt: 0 };

/** The runs of a filter, kept up to date by the live feed and read anew after the feed was lost; as many as were loaded where the reader comes back to it. */
export function useRuns(filter: RunFilter): RunList {
  const list = useSignal<Listed>(nothing);
  const abort = useRef(new AbortController());
  const asked = `${JSON.stringify(filter)} ${plantZone.value}`;

  const read = async (cursor: string | null, limit = pageSize): Promise<void> => {
    abort.current.abort();
    const own = new AbortController();
    abort.current = own;
    if (isBackwards(filter)) {
      list.value = { runs: [], next: null, busy: false, failure: null, givenAt: Date.now() };
      return;
    }
    list.value = { ...list.peek(), busy: true, failure: null };
    try {
      const answer = await fetchRuns({ ...filterQuery(filter, spanOf(filter, Date.now())), limit, cursor }, own.signal);
      const before = list.peek();
      if (!answer.ok) {
        list.value = { ...before, busy: false, failure: answer.failure.reason };
        return;
      }
      const held = cursor === null ? [] : (before.runs ?? []);
      const ids = new Set(held.map((run) => run.id));
      list.value = { runs: [...held, ...answer.value.items.filter((run) => !ids.has(run.id))], next: answer.value.next, busy: false, failure: null, givenAt: Date.now() };
    } catch (error) {
      if (!own.signal.aborted) throw error;
    }
  };
  const loaded = (): number => Math.min(largestPage, Math.max(pageSize, list.peek().runs?.length ?? 0));

  useEffect(() => {
    list.value = nothing;
    void read(null, Math.min(largestPage, Math.max(pageSize, readListPlace()?.rows ?? 0)));
    const stop = onRun((run) => {
      const { runs, next } = list.peek();
      if (runs !== null) list.value = { ...list.peek(), runs: withRun(runs, run, filter, next !== null, Date.now()), givenAt: Date.now() };
    });
    return () => {
      stop();
      abort.current.abort();
    };
  }, [asked]);

  const times = opened.value;
  useEffect(() => {
    if (times > 1) void read(null, loaded());
  }, [times]);

  return {
    ...list.value,
    more: () => {
      const { next } = list.peek();
      if (next !== null) void read(next);
    },
    again: () => void read(null, loaded()),
  };
}
