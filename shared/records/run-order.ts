import { sql } from 'kysely';
import type { RawBuilder } from 'kysely';
import type { PageKey } from './page.js';

export const runOrders = ['startedAt', 'seam', 'length', 'excursions'] as const;
export type RunOrder = (typeof runOrders)[number];
export type Direction = 'asc' | 'desc';

/** How a list of runs is sorted: by a value, runs of one value those begun last first. */
export interface RunSorting {
  readonly order: RunOrder;
  readonly direction: Direction;
}

/** Names the list that a cursor belongs to: one of another order means another place. */
export function listName({ order, direction }: RunSorting): string {
  return order === 'startedAt' && direction === 'desc' ? 'runs' : `runs-${order}-${direction}`;
}

/** What is sorted by. Where it is not known a run stands behind all others, whichever way the list goes. */
export function sortValue({ order, direction }: RunSorting): RawBuilder<string | number> {
  if (order === 'seam') return direction === 'asc' ? sql`coalesce(seam, char(1114111))` : sql`coalesce(seam, '')`;
  if (order === 'length') return direction === 'asc' ? sql`coalesce(length, 1e18)` : sql`coalesce(length, -1)`;
  return order === 'excursions' ? sql`excursions` : sql`started`;
}

/** The key of a row within its list. */
export function sortKey(value: string | number, started: number, id: string): PageKey {
  return { at: started, id: JSON.stringify([value, id]) };
}

/** What a key was made of, or undefined where it was made for no such list. */
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
