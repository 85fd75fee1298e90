/** Where a page of a list ends: the sort key of its last row and what distinguishes rows of one key. */
export interface PageKey {
  readonly at: number;
  readonly id: string;
}

/** The requested page of a list: at most `limit` rows after `after`. */
export interface PageRequest {
  readonly limit: number;
  readonly after: PageKey | null;
}

export interface Page<T> {
  readonly rows: readonly T[];
  /** The key after which the next page begins, or null on the last page. */
  readonly next: PageKey | null;
}

/** Cuts `limit + 1` rows into a page; the extra row shows that there is another page. */
export function pageOf<T>(rows: readonly T[], limit: number, keyOf: (row: T) => PageKey): Page<T> {
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return { rows: shown, next: rows.length > limit && last !== undefined ? keyOf(last) : null };
}

/** The key as opaque, URL-safe text that names its list, so that no other list takes it. */
export function writeCursor(list: string, key: PageKey): string {
  return Buffer.from(JSON.stringify([list, key.at, key.id])).toString('base64url');
}

/** The key of a cursor, or undefined if the text is not a cursor of that list. */
export function readCursor(list: string, cursor: string): PageKey | undefined {
  let parts: unknown;
  try {
    parts = JSON.parse(Buffer.from(cursor, 'base64url').toString());
  } catch {
    return undefined;
  }
  if (!Array.isArray(parts) || parts.length !== 3) return undefined;
  const [name, at, id] = parts as readonly unknown[];
  if (name !== list || !Number.isSafeInteger(at) || typeof at !== 'number' || typeof id !== 'string') return undefined;
  const key = { at, id };
  // Any other text that decodes to the same key was not written here.
  return writeCursor(list, key) === cursor ? key : undefined;
}
