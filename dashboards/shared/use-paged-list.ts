import { useEffect, useMemo } from 'preact/hooks';
import type { Answer, CountedPage, Page } from './api.js';
import { withItem, withPage, type Identified, type Listed, type ListRules } from './listed.js';
import { useAnswer, type AnswerNow, type Renewal } from './use-answer.js';

/** The most items that one answer of the service holds. */
const largestPage = 1000;

export interface PagedQuestion<T extends Identified> extends ListRules<T> {
  /** Asks for `limit` items from a cursor on, from the first where that is null. */
  readonly ask: (page: { readonly cursor: string | null; readonly limit: number }, signal: AbortSignal) => Promise<Answer<Page<T> | CountedPage<T>>>;
  readonly pageSize: number;
  /** How many items are read at first, if more than a page. */
  readonly atFirst?: number | undefined;
  /** Calls the listener with items as they change, and returns a function that stops this; null if the live feed does not report them. */
  readonly hear: ((listener: (item: T) => void) => () => void) | null;
}

/** `again` reads everything that is listed anew, however many pages that takes. */
export interface PagedList<T extends Identified> extends Pick<AnswerNow<T>, 'failure' | 'asking' | 'givenAt' | 'again'> {
  /** null until the first answer. */
  readonly items: readonly T[] | null;
  readonly total: number | null;
  readonly hasMore: boolean;
  /** Whether the next page is on its way. */
  readonly readingMore: boolean;
  /** Reads the next page. */
  readonly more: () => void;
}

const nothing = { items: [], next: null, total: null };

/** A list that is read page by page and kept up to date by the live feed; another one whenever something in `question` changes. */
export function usePagedList<T extends Identified>({ ask, pageSize, atFirst = 0, hear, ...rules }: PagedQuestion<T>, question: readonly unknown[], renewal?: Renewal): PagedList<T> {
  // `goesOn` asks for the next page alone; `heard` is what came by the feed while a page was on its way, and is newer than it.
  const progress = useMemo(() => ({ wanted: Math.max(pageSize, atFirst), goesOn: false, readingMore: false, heard: new Map<string, T>() }), question);
  const read = async (signal: AbortSignal, held: () => Listed<T> | null): Promise<Answer<Listed<T>>> => {
    const answer = await readPages(signal, held);
    if (!signal.aborted) progress.readingMore = false;
    return answer;
  };
  const readPages = async (signal: AbortSignal, held: () => Listed<T> | null): Promise<Answer<Listed<T>>> => {
    const { goesOn } = progress;
    progress.goesOn = false;
    progress.heard.clear();
    const before = held();
    let list: Listed<T> = goesOn && before !== null ? { ...before, items: [] } : nothing;
    const wanted = goesOn ? pageSize : Math.max(progress.wanted, before?.items.length ?? 0);
    do {
      const answer = await ask({ cursor: list.next, limit: Math.min(largestPage, wanted - list.items.length) }, signal);
      if (!answer.ok) return answer;
      list = withPage(list, { total: null, ...answer.value }, rules);
    } while (list.next !== null && list.items.length < wanted);
    const whole = goesOn ? withPage(held() ?? nothing, list, rules) : list;
    return { ok: true, value: [...progress.heard.values()].reduce((known, item) => withItem(known, item, rules), whole) };
  };
  const { value, failure, asking, givenAt, again, change } = useAnswer(read, question, renewal);
  useEffect(
    () =>
      hear?.((item) => {
        progress.heard.set(item.id, item);
        change((list) => (list === null ? null : withItem(list, item, rules)));
      }),
    [progress],
  );
  const { items = null, next = null, total = null } = value ?? {};
  return {
    items, total, failure, asking, givenAt, again,
    hasMore: next !== null,
    readingMore: asking && progress.readingMore,
    more: () => {
      if (items === null || progress.readingMore) return;
      progress.readingMore = true;
      progress.wanted = items.length + pageSize;
      // A reading that is under way starts again from the beginning, with the next page.
      progress.goesOn = !asking;
      again();
    },
  };
}
