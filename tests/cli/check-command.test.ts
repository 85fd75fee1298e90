import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { afterAll, describe, expect, it } from 'vitest';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { program, scratchDir, startProcess } from '../faults/service-process.js';

const folder = mkdtempSync(join(tmpdir(), 'seamwarden-check-'));
afterAll(() => { rmSync(folder, { recursive: true, force: true }); });

function check(env: Readonly<Record<string, string>>): Promise<{ code: number | null; out: string }> {
  return new Promise((resolve) => {
    const own = { ...process.env, SEAMWARDEN_MQTT_URL: '', SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: '0', ...env };
    const child = execFile(process.execPath, [program, 'check'], { env: own, cwd: folder, timeout: 180_000 }, (_error, stdout, stderr) => {
      resolve({ code: child.exitCode, out: stdout + stderr });
    });
  });
}

/** A carriage that welds for 30 s; the service is asked to stop once everything is stored. */
async function weld(dataDir: string): Promise<void> {
  const service = startProcess({ dataDir });
  const { mqtt: url } = await service.listening;
  const client = await mqtt.connectAsync(url);
  const start = Date.now() - 60_000;
  await client.publishAsync('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 1 }), { qos: 1 });
  await Promise.all(Array.from({ length: 330 }, (_, seq) => {
    const on = seq <= 300;
    return client.publishAsync('weld/hall/c1/readings', JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 }), { qos: 1 });
  }));
  await client.publishAsync('weld/hall/c1/assignment', '', { qos: 1 });
  await client.endAsync();
  await service.kill('SIGTERM');
}

describe('check', () => {
  it('makes no data folder, and says that the first start makes it', async () => {
    const { code, out } = await check({ SEAMWARDEN_DATA_DIR: join(folder, 'a', 'b') });
    expect(out).toContain(`${join(folder, 'a', 'b')} is not there; the first start makes it in ${folder}`);
    expect(code).toBe(0);
    expect(existsSync(join(folder, 'a'))).toBe(false);
  });

  it.each(['/proc/x', '/dev/null'])('ends with 1 where nothing can be written: %s', async (place) => {
    const { code, out } = await check({ SEAMWARDEN_DATA_DIR: place });
    expect(out).toMatch(/^wrong {2}SEAMWARDEN_DATA_DIR: .*(cannot be written to|is no folder)/m);
    expect(code).toBe(1);
  });

  it('says whether a port is in use by the service or by another program', async () => {
    const dir = scratchDir();
    const service = startProcess({ dataDir: dir.path });
    const { http, mqtt: broker } = await service.listening;
    const env = { SEAMWARDEN_DATA_DIR: dir.path, SEAMWARDEN_HTTP_PORT: new URL(http).port, SEAMWARDEN_MQTT_PORT: new URL(broker).port };
    const running = await check(env);
    expect(running.out).toMatch(/SEAMWARDEN_MQTT_PORT: .* is in use by the service, which runs\n.*SEAMWARDEN_HTTP_PORT: .* is in use by the service, which runs/);
    expect(running.code).toBe(0);
    await service.kill('SIGTERM');
    dir.remove();
    const other = createServer((_request, response) => { response.end('{}'); }).listen(0, '127.0.0.1');
    await new Promise((resolve) => { other.once('listening', resolve); });
    const taken = await check({ SEAMWARDEN_DATA_DIR: folder, SEAMWARDEN_HTTP_PORT: String((other.address() as AddressInfo).port) });
    other.close();
    expect(taken.out).toMatch(/^wrong {2}SEAMWARDEN_HTTP_PORT: .* is in use by another program/m);
    expect(taken.code).toBe(1);
  });

  it('accounts for every item, and names the carriage if items are missing or figures differ', async () => {
    const dataDir = join(folder, 'data');
    mkdirSync(dataDir);
    await weld(dataDir);
    const env = { SEAMWARDEN_DATA_DIR: dataDir };
    const whole = await check(env);
    expect(whole.out).toContain('each of 330 items of 1 carriages and logs is in the figures or on a list of late items (0)');
    expect(whole.code).toBe(0);
    const db = openSqlite(join(dataDir, 'seamwarden.db'));
    const { record } = db.prepare<[], { record: string }>('select record from runs').get() ?? { record: '' };
    // 300 intervals of 0.1 s and the last reading up to the first zero
    const run = JSON.parse(record) as { arcTime: number };
    expect(run.arcTime).toBeCloseTo(30.1, 9);
    db.prepare('update runs set record = ?').run(JSON.stringify({ ...run, arcTime: 29.1 }));
    const changed = await check(env);
    expect(changed.out).toMatch(/^wrong {2}hall\/c1: run \S+: arcTime is 29.1, the items in order give 30.1$/m);
    expect(changed.code).toBe(1);
    db.prepare('update runs set record = ?').run(record);
    db.prepare('delete from kept where id = (select max(id) from kept)').run();
    db.close();
    const gone = await check(env);
    expect(gone.out).toMatch(/^wrong {2}hall\/c1: 330 items have to be in the figures, .* are missing$/m);
    expect(gone.code).toBe(1);
  });
});
