import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { listAnswer } from '../../services/api/route.js';
import { damageMessage, openingError, readStored } from '../../shared/records/damage.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import { sqliteTraceReader, sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { sqliteTraceStore } from '../traces/trace-database.js';
import { asReadings, foldedRows } from '../traces/folded-rows.js';
import { madeStands } from '../traces/made-rows.js';
import { arcNumbers, readArc } from '../named-rows.js';

let folder: string;
beforeEach(() => { folder = mkdtempSync(join(tmpdir(), 'seamwarden-damage-')); });
afterEach(() => { rmSync(folder, { recursive: true, force: true }); });

function openingOf(file: string): string {
  try {
    migrate(openWriter(file), []);
    return 'opened';
  } catch (thrown) {
    return openingError(file, thrown).message;
  }
}

test('a store that is not a database is reported with its file and the remedy', () => {
  const other = join(folder, 'other.db');
  writeFileSync(other, Buffer.alloc(40_000, 'x'));
  expect(openingOf(other)).toMatch(new RegExp(`^${other}: .*damaged: stop the service, copy`));
});

test('a damaged schema, for which SQLite quotes a statement of several lines, is reported in one line', () => {
  const file = join(folder, 'schema.db');
  const db = openWriter(file);
  db.exec('create table first (\n    id INTEGER\n  ) STRICT');
  db.pragma('wal_checkpoint(truncate)');
  db.close();
  // A letter that became a quotation mark: it opens a name that is never closed.
  const bytes = readFileSync(file);
  bytes[bytes.indexOf('id INTEGER')] = '"'.charCodeAt(0);
  writeFileSync(file, bytes);
  const said = openingOf(file);
  expect(said).toMatch(new RegExp(`^${file}: .*malformed database schema.*damaged: stop the service, copy`));
});

test('a record that is not JSON is left out of a list and counted', () => {
  const { text } = listAnswer(['{"id":"a"}', '{"id":"b', '{"id":"c"}'], null) as { text: string };
  expect(JSON.parse(text)).toEqual({ items: [{ id: 'a' }, { id: 'c' }], next: null, unreadable: 1 });
});

test('a trace with a flipped bit in the store is an error that names the file, the run and the remedy', () => {
  const file = join(folder, 'seamwarden.db');
  const db = openWriter(file);
  migrate(db, [sqliteTracesSchema]);
  const { arc } = foldedRows(asReadings([...madeStands({ count: 1_200, start: 1_700_000_000_000_000, interval: 100_000, jitter: 3, seed: 5 })]));
  sqliteTraceStore(db).appendArc('R1', 1, arcNumbers(arc));
  const read = (): number => readArc(sqliteTraceReader(db), 'R1', 1).length;
  expect(read()).toBe(arc.length);
  const [packed] = db.prepare<[], { id: number; body: Uint8Array }>('select id, body from trace_packed').all();
  const body = Buffer.from(packed?.body ?? []);
  body.writeUInt8(body.readUInt8(body.length >> 1) ^ 8, body.length >> 1);
  db.prepare<[Uint8Array, number]>('update trace_packed set body = ? where id = ?').run(body, packed?.id ?? 0);
  expect(read).toThrow(`${file}: the trace of run R1, arc 1, from row 17000000000 on cannot be read (packed rows are damaged: they are others than their checksum says): the store is damaged: stop the service, copy the whole data folder away`);
  db.close();
});

test('the answer repeats what the damage error says', () => {
  expect(() => readStored('the record of run R1', '{"id":"R1', (value) => value)).toThrow(/^seamwarden\.db: the record of run R1 cannot be read \(.*JSON.*\): the store is damaged: stop/);
  expect(damageMessage(new Error('something else'))).toBe(null);
});
