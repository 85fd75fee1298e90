import { sql, type RawBuilder } from 'kysely';
import type { PageKey } from './page.js';

export const runOrders = ['startedAt', 'seam', 'length', 'excursions'] as const;
export type RunOrder = (typeof runOrders)[number];
export type Direction = 'asc' | 'desc';

/** How a list of runs is sorted: by a value, and runs of one value newest first. */
export interface RunSorting {
  readonly order: RunOrder;
  readonly direction: Direction;
}

/** Names the list that a cursor belongs to: in a list of another order it means another place. */
export function listName({ order, direction }: RunSorting): string {
  return order === 'startedAt' && direction === 'desc' ? 'runs' : `runs-${order}-${direction}`;
}

/** The value by which runs are sorted. Runs for which it is not known come last, in either direction. */
export function sortValue({ order, direction }: RunSorting): RawBuilder<string | number> {
  if (order === 'seam') return direction === 'asc' ? sql`coalesce(seam, char(1114111))` : sql`coalesce(seam, '')`;
  if (order === 'length') return direction === 'asc' ? sql`coalesce(length, 1e18)` : sql`coalesce(length, -1)`;
  return order === 'excursions' ? sql`excursions` : sql`started`;
}

/** The key of a row within its list. */
export function sortKey(value: string | number, started: number, id: string): PageKey {
  return { at: started, id: JSON.stringify([value, id]) };
}

/** The parts of a key, or undefined if it was not made for such a list. */
export function readSortKey({ at, id }: PageKey): { readonly value: string | number; readonly started: number; readonly id: string } | undefined {
  try {
    const parts: unknown = JSON.parse(id);
    if (!Array.isArray(parts) || parts.length !== 2) return undefined;
    const [value, own] = parts as readonly unknown[];
    if ((typeof value !== 'string' && typeof value !== 'number') || typeof own !== 'string') return undefined;
    return { value, started: at, id: own };
  } catch {
    return undefined;
  }
}
