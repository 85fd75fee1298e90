import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';

/** One item as its JSON says it; only what tells it apart and what it measured is looked at. */
export interface SentItem {
  readonly boot: string;
  readonly seq: number;
  readonly arc?: number;
  readonly current: number | readonly number[];
  readonly [more: string]: unknown;
}

interface KeptRow {
  readonly site: string;
  readonly carriage: string;
  readonly kind: string;
  readonly payload: Buffer;
  readonly taken: string | null;
}

export function identityOf(site: string, carriage: string, item: { boot?: unknown; seq?: unknown; arc?: unknown }): string {
  return `${site}/${carriage} ${String(item.boot)} seq ${String(item.seq)} arc ${JSON.stringify(item.arc ?? 1)}`;
}

/**
 * Every item of a site that the store keeps, by its identity, with each copy's JSON. Reads the file itself, beside the
 * service and with nothing of its code, for the API shows runs and not items.
 */
export function keptItems(dataDir: string, site: string): Map<string, string[]> {
  const db = new BetterSqlite3(join(dataDir, 'seamwarden.db'), { readonly: true, fileMustExist: true });
  try {
    const rows = db.prepare<[string], KeptRow>('select site, carriage, kind, payload, taken from kept join streams on streams.id = kept.stream_id where site = ?');
    const found = new Map<string, string[]>();
    for (const row of rows.iterate(site)) {
      if (row.kind !== 'readings') continue;
      // A byte order mark is taken, so it may stand in what is kept (RFC 8259, section 8.1).
      const message: unknown = JSON.parse(new TextDecoder().decode(row.payload));
      const entries: unknown[] = Array.isArray(message) ? message : [message];
      const taken = row.taken === null ? null : new Set(JSON.parse(row.taken) as number[]);
      entries.forEach((entry, position) => {
        if (taken !== null && !taken.has(position)) return;
        const key = identityOf(row.site, row.carriage, entry as SentItem);
        const copies = found.get(key);
        if (copies === undefined) found.set(key, [JSON.stringify(entry)]);
        else copies.push(JSON.stringify(entry));
      });
    }
    return found;
  } finally {
    db.close();
  }
}

/** What is wrong, a line each: items that were acknowledged and are not kept, kept twice, or kept as something else. */
export function checkKept(kept: ReadonlyMap<string, readonly string[]>, acknowledged: ReadonlyMap<string, string>): string[] {
  const problems: string[] = [];
  for (const [key, json] of acknowledged) {
    const copies = kept.get(key);
    if (copies === undefined) problems.push(`lost: ${key} was acknowledged and is not stored`);
    else if (copies.length > 1) problems.push(`twice: ${key} is stored ${copies.length} times`);
    else if (copies[0] !== json) problems.push(`changed: ${key} was sent as ${json} and is stored as ${String(copies[0])}`);
  }
  for (const [key, copies] of kept) if (copies.length > 1 && !acknowledged.has(key)) problems.push(`twice: ${key} is stored ${copies.length} times`);
  return problems;
}
