export interface Identified { readonly id: string }

/** A list as far as it has been read. */
export interface Listed<T extends Identified> {
  readonly items: readonly T[];
  /** Where the next page begins; null after the last. */
  readonly next: string | null;
  /** How many there are on all pages; null where the service does not say. */
  readonly total: number | null;
}

/** What belongs in a list, and where. */
export interface ListRules<T extends Identified> {
  /** Whether the filters let it through. */
  readonly fits: (item: T) => boolean;
  /** Which of two items comes first; null if only the service knows. */
  readonly order: ((a: T, b: T) => number) | null;
}

/** The list with the page that was read after it; an item that is in both is kept as it was read last. */
export function withPage<T extends Identified>(list: Listed<T>, page: Listed<T>, { order }: Pick<ListRules<T>, 'order'>): Listed<T> {
  const all = [...new Map([...list.items, ...page.items].map((item) => [item.id, item])).values()];
  return { ...page, items: order === null ? all : all.sort(order) };
}

/**
 * The list after an item has changed: the item is replaced, removed if it no longer fits, or inserted if it is new. A new item that belongs after everything
 * listed waits for its page, unless there is no further page; if only the service knows the order, it waits until the list is requested again.
 */
export function withItem<T extends Identified>(list: Listed<T>, item: T, { fits, order }: ListRules<T>): Listed<T> {
  const { items, next, total } = list;
  const isHeld = items.some(({ id }) => id === item.id);
  if (!fits(item)) return isHeld ? { items: items.filter(({ id }) => id !== item.id), next, total: total === null ? null : total - 1 } : list;
  if (isHeld) {
    const replaced = items.map((own) => (own.id === item.id ? item : own));
    return { ...list, items: order === null ? replaced : replaced.sort(order) };
  }
  if (order === null || (next !== null && !items.some((own) => order(item, own) <= 0))) return list;
  return { items: [item, ...items].sort(order), next, total: total === null ? null : total + 1 };
}
