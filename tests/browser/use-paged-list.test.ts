import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answer, CountedPage } from '../../dashboards/shared/api.js';
import { opened } from '../../dashboards/shared/live-feed.js';
import type { PagedList } from '../../dashboards/shared/use-paged-list.js';
import { usePagedList } from '../../dashboards/shared/use-paged-list.js';
import { runHook } from './run-hook.js';

interface Item {
  readonly id: string;
  /** Its place: the list begins with the highest. */
  readonly at: number;
  readonly open: boolean;
  readonly text: string;
}

const pageSize = 3;
const itemAt = (at: number, part: Partial<Item> = {}): Item => ({ id: `i${at}`, at, open: true, text: 'first', ...part });

interface ListUnderTest {
  readonly now: () => PagedList<Item>;
  readonly given: readonly PagedList<Item>[];
  readonly ids: () => string[];
  /** What the service was asked for, as `cursor+limit`. */
  readonly asked: readonly string[];
  readonly put: (...items: readonly Item[]) => void;
  /** Holds back the service's answers until it is released; the service reads them when it is asked. */
  readonly hold: () => () => void;
  readonly failNext: () => void;
  /** What the service lists of the open ones, all pages. */
  readonly whole: () => string[];
}

/** The list of the open items of a service that begins with some and tells of changes as the live feed does. */
function listOf(items: readonly Item[], order: ((a: Item, b: Item) => number) | null = (a, b) => b.at - a.at): ListUnderTest {
  const held = new Map(items.map((item) => [item.id, item]));
  const listeners = new Set<(item: Item) => void>();
  const asked: string[] = [];
  let gate: Promise<void> = Promise.resolve();
  let fails = false;
  const open = (): Item[] => [...held.values()].filter((item) => item.open).sort((a, b) => b.at - a.at);
  const ask = async ({ cursor, limit }: { readonly cursor: string | null; readonly limit: number }): Promise<Answer<CountedPage<Item>>> => {
    asked.push(`${cursor ?? ''}+${limit}`);
    const all = open();
    const rest = all.filter(({ at }) => cursor === null || at < Number(cursor));
    const page = rest.slice(0, limit);
    const failed = fails;
    fails = false;
    await gate;
    if (failed) return { ok: false, failure: { status: 503, reason: 'not now' } };
    return { ok: true, value: { items: page, next: rest.length > limit ? String(page.at(-1)?.at) : null, total: all.length } };
  };
  const hook = runHook(
    () =>
      usePagedList<Item>(
        {
          ask,
          pageSize,
          hear: (listener) => {
            listeners.add(listener);
            return () => listeners.delete(listener);
          },
          fits: (item) => item.open,
          order,
        },
        [],
      ),
    null,
  );
  return {
    now: hook.now,
    given: hook.given,
    asked,
    ids: () => (hook.now().items ?? []).map(({ id }) => id),
    put: (...changed) => {
      for (const item of changed) {
        held.set(item.id, item);
        for (const listener of listeners) listener(item);
      }
    },
    hold: () => {
      let release = (): void => undefined;
      gate = new Promise((resolve) => { release = resolve; });
      return () => { release(); };
    },
    failNext: () => { fails = true; },
    whole: () => open().map(({ id }) => id),
  };
}

const seven = [7, 6, 5, 4, 3, 2, 1].map((at) => itemAt(at));

describe('a list', () => {
  it('is read page by page, with none twice, though an item arrives between two pages', async () => {
    const { now, ids, put, whole } = listOf(seven);
    await expect.poll(ids).toEqual(['i7', 'i6', 'i5']);
    expect(now()).toMatchObject({ total: 7, hasMore: true, asking: false });
    put(itemAt(8));
    await expect.poll(ids).toEqual(['i8', 'i7', 'i6', 'i5']);
    expect(now().total).toBe(8);
    now().more();
    await expect.poll(ids).toEqual(['i8', 'i7', 'i6', 'i5', 'i4', 'i3', 'i2']);
    now().more();
    await expect.poll(ids).toEqual(whole());
    expect(now()).toMatchObject({ total: 8, hasMore: false });
  });

  it('shows what came by the feed while a page was on its way rather than what the page says of it', async () => {
    const { now, ids, put, hold, asked } = listOf(seven);
    await expect.poll(ids).toHaveLength(3);
    const release = hold();
    now().more();
    await expect.poll(() => asked.length).toBe(2);
    put(itemAt(4, { text: 'second' }), itemAt(3, { open: false }), itemAt(9));
    // The feed is not kept waiting by the page.
    await expect.poll(ids).toEqual(['i9', 'i7', 'i6', 'i5']);
    release();
    await expect.poll(ids).toEqual(['i9', 'i7', 'i6', 'i5', 'i4', 'i2']);
    expect(now().items?.find(({ id }) => id === 'i4')?.text).toBe('second');
  });

  it('replaces changed items, drops items that no longer fit, and leaves later items to their page', async () => {
    const { now, ids, put } = listOf(seven);
    await expect.poll(ids).toHaveLength(3);
    put(itemAt(6, { text: 'second' }), itemAt(7, { open: false }), itemAt(2, { text: 'second' }));
    await expect.poll(ids).toEqual(['i6', 'i5']);
    expect(now()).toMatchObject({ total: 6, items: [{ text: 'second' }, { text: 'first' }] });
    now().more();
    await expect.poll(ids).toEqual(['i6', 'i5', 'i4', 'i3', 'i2']);
  });

  it('keeps what is there if a page fails, and continues from there', async () => {
    const { now, ids, failNext, whole } = listOf(seven);
    await expect.poll(ids).toHaveLength(3);
    failNext();
    now().more();
    await expect.poll(() => now().failure?.reason).toBe('not now');
    expect(ids()).toEqual(['i7', 'i6', 'i5']);
    expect(now().hasMore).toBe(true);
    now().more();
    await expect.poll(ids).toHaveLength(6);
    expect(now().failure).toBeNull();
    now().more();
    await expect.poll(ids).toEqual(whole());
  });

  it('asks for the next page once, however often it is pressed meanwhile', async () => {
    const { now, ids, asked, hold } = listOf(seven);
    await expect.poll(ids).toHaveLength(3);
    const release = hold();
    now().more();
    await expect.poll(() => now().readingMore).toBe(true);
    now().more();
    release();
    await expect.poll(ids).toHaveLength(6);
    expect(asked).toEqual(['+3', '5+3']);
  });

  it('is read anew as far as it was read when the feed opens, with the page that was on its way', async () => {
    const { now, ids, hold, put, asked, given } = listOf(seven);
    await expect.poll(ids).toHaveLength(3);
    const release = hold();
    now().more();
    await expect.poll(() => asked.length).toBe(2);
    const seen = given.length;
    opened.value += 1;
    put(itemAt(8));
    await expect.poll(() => asked.length).toBe(3);
    release();
    await expect.poll(ids).toEqual(['i8', 'i7', 'i6', 'i5', 'i4', 'i3']);
    // Nobody saw it empty or shorter meanwhile.
    expect(Math.min(...given.slice(seen).map(({ items }) => items?.length ?? 0))).toBeGreaterThanOrEqual(3);
  });

  it('reads the next page while the list is being read anew, and loses neither', async () => {
    const { now, ids, hold, put, asked } = listOf(seven, null);
    await expect.poll(ids).toHaveLength(3);
    put(itemAt(8));
    const release = hold();
    now().again();
    await expect.poll(() => now().asking).toBe(true);
    expect(now().readingMore).toBe(false);
    now().more();
    await expect.poll(() => now().readingMore).toBe(true);
    release();
    await expect.poll(ids).toEqual(['i8', 'i7', 'i6', 'i5', 'i4', 'i3']);
    expect(now().readingMore).toBe(false);
    expect(asked).toEqual(['+3', '+3', '+6']);
  });

  it('leaves a new item to the next reading where the service alone knows the order', async () => {
    const { now, ids, put } = listOf(seven, null);
    await expect.poll(ids).toHaveLength(3);
    put(itemAt(8), itemAt(6, { text: 'second' }));
    await expect.poll(() => now().items?.[1]?.text).toBe('second');
    expect(ids()).toEqual(['i7', 'i6', 'i5']);
    now().again();
    await expect.poll(ids).toEqual(['i8', 'i7', 'i6']);
  });

  it('is in the end what the service lists, whatever arrives and changes between the pages and while they are on their way', async () => {
    const step = fc.oneof(fc.constantFrom('more' as const, 'wait' as const), fc.record({ at: fc.integer({ min: 1, max: 20 }), open: fc.boolean() }));
    await fc.assert(
      fc.asyncProperty(fc.uniqueArray(fc.integer({ min: 1, max: 20 }), { maxLength: 15 }), fc.array(step, { maxLength: 15 }), async (begin, steps) => {
        const { now, ids, put, whole } = listOf(begin.map((at) => itemAt(at)));
        const answered = async (): Promise<void> => { await expect.poll(() => now().asking, { interval: 1 }).toBe(false); };
        for (const own of steps) {
          if (own === 'wait') await answered();
          else if (own === 'more') now().more();
          else put(itemAt(own.at, { open: own.open }));
        }
        await answered();
        while (now().hasMore) {
          now().more();
          await answered();
        }
        expect(ids()).toEqual(whole());
      }),
      { numRuns: 50 },
    );
  });
});
