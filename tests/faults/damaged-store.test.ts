import { closeSync, openSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { expect, it } from 'vitest';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { runsOf, until } from './ask-service.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'hall';

/** Two runs of two carriages, long over, in a store whose service has stopped. */
async function weldTwoRuns(dataDir: string): Promise<string[]> {
  const service = startProcess({ dataDir });
  const { http, mqtt: url } = await service.listening;
  const client = await mqtt.connectAsync(url, { clientId: 'welds' });
  for (const carriage of ['c1', 'c2']) {
    await client.publishAsync(`weld/${site}/${carriage}/assignment`, JSON.stringify({ seam: `S-${carriage}`, run: 1 }), { qos: 1 });
    const items = Array.from({ length: 100 }, (_, seq) => ({ boot: 'b1', seq, time: Date.UTC(2026, 10, 2, 12) + seq * 100, current: seq < 90 ? 600 : 0, voltage: seq < 90 ? 30 : 0, travelSpeed: 550 }));
    await client.publishAsync(`weld/${site}/${carriage}/readings`, JSON.stringify(items), { qos: 1 });
    await client.publishAsync(`weld/${site}/${carriage}/assignment`, '', { qos: 1 });
    await until('a finished run', async () => (await runsOf(http, site, carriage))[0]?.state === 'finished');
  }
  const ids = [...(await runsOf(http, site, 'c1')), ...(await runsOf(http, site, 'c2'))].map(({ id }) => id);
  await client.endAsync();
  await service.kill('SIGTERM');
  return ids;
}

const ask = async (address: string): Promise<{ readonly status: number; readonly body: Record<string, unknown> }> => {
  const response = await fetch(address);
  return { status: response.status, body: (await response.json()) as Record<string, unknown> };
};

/** Breaks the first page of a table or an index. */
function breakPage(file: string, name: string): void {
  const db = openSqlite(file);
  const root = db.prepare<[string], { rootpage: number }>('select rootpage from sqlite_schema where name = ?').get(name)?.rootpage ?? 0;
  const size = Number(db.pragma('page_size', { simple: true }));
  db.pragma('wal_checkpoint(TRUNCATE)');
  db.close();
  // The first byte of a page says what kind of page it is (SQLite file format, 1.6), and 255 is none.
  const open = openSync(file, 'r+');
  writeSync(open, Buffer.from([255]), 0, 1, (root - 1) * size);
  closeSync(open);
}

it('never answers with a record in which a figure was changed, and answers the others', async () => {
  const dir = scratchDir();
  const [damaged = '', whole = ''] = await weldTwoRuns(dir.path);
  const db = openSqlite(join(dir.path, 'seamwarden.db'));
  // Decided long ago, so that nothing is computed anew. A bit of a digit turned over makes 600 A of it 700.
  db.exec('update runs set finished = finished - 7200000000, row_sum = null');
  const { changes } = db.prepare<[string]>(`update runs set record = replace(record, '"mean":600', '"mean":700') where id = ?`).run(damaged);
  expect([changes, db.prepare<[string], { other: number }>(`select instr(record, '"mean":700') > 0 as other from runs where id = ?`).get(damaged)]).toEqual([1, { other: 1 }]);
  db.close();
  const service = startProcess({ dataDir: dir.path });
  try {
    const { http } = await service.listening;
    expect(await ask(`${http}/api/runs/${damaged}`)).toMatchObject({ status: 500, body: { detail: expect.stringMatching(new RegExp(`the record of run ${damaged} cannot be read .*checksum.* the store is damaged: stop the service`)) as string } });
    expect((await ask(`${http}/api/runs/${whole}`)).status).toBe(200);
    const list = await ask(`${http}/api/runs`);
    expect(list).toMatchObject({ status: 200, body: { unreadable: 1, items: [{ id: whole }] } });
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
});

it('says in its log, in health and by an alarm that SQLite finds the file damaged, and goes on storing', async () => {
  const dir = scratchDir();
  await weldTwoRuns(dir.path);
  // An index that nothing is written into: folding again, which a start may have to do, takes out what came late.
  breakPage(join(dir.path, 'seamwarden.db'), 'refused_by_arrival');
  const service = startProcess({ dataDir: dir.path });
  try {
    const { http, mqtt: url } = await service.listening;
    await until('health to tell the damage', async () => 'damage' in (await ask(`${http}/api/health`)).body, 30, () => service.stderr());
    const words = /seamwarden\.db is damaged: .*stop the service, copy the whole data folder away/;
    expect(await ask(`${http}/api/health`)).toMatchObject({ status: 200, body: { status: 'ok', damage: expect.stringMatching(words) as string } });
    // The alarm is listed by the commit after the one that tells health.
    const items = async (): Promise<unknown> => (await ask(`${http}/api/alarms?active=true`)).body['items'];
    await until('the alarm', async () => JSON.stringify(await items()) !== '[]');
    expect(await items()).toContainEqual(expect.objectContaining({ quantity: 'storage', site: null, priority: 'high', response: expect.stringMatching(words) as string }));
    expect(service.stderr()).toMatch(words);
    const client = await mqtt.connectAsync(url, { clientId: 'later' });
    await client.publishAsync(`weld/${site}/c3/readings`, JSON.stringify({ boot: 'b1', seq: 1, time: Date.UTC(2026, 10, 2, 13), current: 0, voltage: 0 }), { qos: 1 });
    await client.endAsync();
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
});

/** A letter of the text by which SQLite knows a table's column is another. */
function misspellColumn(file: string): void {
  const db = openSqlite(file);
  db.pragma('wal_checkpoint(TRUNCATE)');
  db.close();
  const bytes = readFileSync(file);
  const at = bytes.indexOf('span TEXT NOT NULL');
  expect(at).toBeGreaterThan(0);
  bytes.write('spam', at);
  writeFileSync(file, bytes);
}

it.each([
  ['can not read what carriages there are', (file: string) => { breakPage(file, 'streams'); }, 'malformed'],
  ['does not know a column', misspellColumn, 'no such column'],
])('does not start where SQLite %s, and says which file is damaged and what to do', async (_what, damage, words) => {
  const dir = scratchDir();
  try {
    await weldTwoRuns(dir.path);
    damage(join(dir.path, 'seamwarden.db'));
    const service = startProcess({ dataDir: dir.path });
    await expect(service.listening).rejects.toThrow();
    // The log may have said before that nothing can be stored.
    const last = service.stderr().trim().split('\n').at(-1) ?? '';
    expect(last).toMatch(/^error: \S*seamwarden\.db: .*: the store is damaged: stop the service, copy the whole data folder away/);
    expect(last).toContain(words);
  } finally {
    dir.remove();
  }
});
