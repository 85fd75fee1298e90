import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';

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

interface KeptMessage {
  readonly kind: string;
  readonly payload: Uint8Array;
  /** Positions that counted; null for all. */
  readonly taken: readonly number[] | null;
}

export function identityOf(site: string, carriage: string, item: { boot?: unknown; seq?: unknown; arc?: unknown }): string {
  return `${site}/${carriage} ${String(item.boot)} seq ${String(item.seq)} arc ${JSON.stringify(item.arc ?? 1)}`;
}

/**
 * Every item of a site that the store keeps, by its identity, with each copy's JSON. Reads the file itself, beside the
 * service and with nothing of its code, for the API shows runs and not items.
 */
export function keptItems(dataDir: string, site: string): Map<string, string[]> {
  const db = openSqlite(join(dataDir, 'seamwarden.db'), { readOnly: true });
  try {
    const rows = db.prepare<[string], KeptRow>('select site, carriage, kind, payload, taken from kept join streams on streams.id = kept.stream_id where site = ?');
    const found = new Map<string, string[]>();
    for (const row of rows.iterate(site)) {
      for (const { kind, payload, taken } of messagesOf(row)) {
        if (kind !== 'readings') continue;
        // A byte order mark is accepted, so it may be in what is kept (RFC 8259, section 8.1).
        const message: unknown = JSON.parse(new TextDecoder().decode(payload));
        const entries: unknown[] = Array.isArray(message) ? message : [message];
        entries.forEach((entry, position) => {
          if (taken !== null && !taken.includes(position)) return;
          const key = identityOf(row.site, row.carriage, entry as SentItem);
          const copies = found.get(key);
          if (copies === undefined) found.set(key, [JSON.stringify(entry)]);
          else copies.push(JSON.stringify(entry));
        });
      }
    }
    return found;
  } finally {
    db.close();
  }
}

function messagesOf({ kind, payload, taken }: KeptRow): readonly KeptMessage[] {
  if (kind === 'pack-crc32') {
    const [body, sum] = [payload.subarray(0, -4), Buffer.from(payload.subarray(-4))];
    if (sum.length < 4 || sum.readUInt32LE(0) !== crc32(body)) throw new Error('a pack is other than its checksum says');
    return messagesIn(body);
  }
  return kind === 'pack' ? messagesIn(payload) : [{ kind, payload, taken: taken === null ? null : (JSON.parse(taken) as number[]) }];
}

/** A pack, by the table of its bytes in `services/ingest/message-log-format.ts`; DataView throws where it ends too soon. */
function messagesIn(pack: Uint8Array): KeptMessage[] {
  const view = new DataView(pack.buffer, pack.byteOffset, pack.byteLength);
  const messages: KeptMessage[] = [];
  for (let at = 0; at < view.byteLength; ) {
    const length = view.getUint32(at + 12, true);
    const kind = ['readings', 'senml'][view.getUint8(at + 16)];
    const counted = view.getUint16(at + 17, true);
    const positions = counted === 0xffff ? 0 : counted;
    const payloadAt = at + 19 + 2 * positions;
    if (kind === undefined || payloadAt + length > view.byteLength) throw new Error(`a pack of ${view.byteLength} bytes can not be read at byte ${at}`);
    const taken = Array.from({ length: positions }, (_, index) => view.getUint16(at + 19 + 2 * index, true));
    messages.push({ kind, payload: pack.subarray(payloadAt, payloadAt + length), taken: counted === 0xffff ? null : taken });
    at = payloadAt + length;
  }
  return messages;
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
