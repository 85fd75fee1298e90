import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const program = fileURLToPath(new URL('../../dist/services/seamwarden.js', import.meta.url));

interface Ended {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

describe('the built program', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'seamwarden-cli-'));
  });
  afterEach(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  const env = (): NodeJS.ProcessEnv => ({
    ...process.env,
    SEAMWARDEN_DATA_DIR: join(folder, 'data'),
    SEAMWARDEN_HTTP_PORT: '0',
    SEAMWARDEN_MQTT_PORT: '0',
    SEAMWARDEN_MQTT_URL: '',
  });

  function run(args: readonly string[]): Promise<Ended> {
    return new Promise((resolve) => {
      execFile(process.execPath, [program, ...args], { cwd: folder, env: env() }, (error, out, errorText) => {
        resolve({ code: error === null ? 0 : Number(error.code), out, error: errorText });
      });
    });
  }

  it('imports a log into a store that no service has open, and the same log again without a change', async () => {
    const lines = Array.from({ length: 601 }, (_, tenth) => `${tenth / 10},600,30,550`);
    const off = Array.from({ length: 10 }, (_, tenth) => `${(601 + tenth) / 10},0,0,0`);
    writeFileSync(join(folder, 'log.csv'), ['time,current,voltage,travelSpeed', ...lines, ...off].join('\n'));
    const args = ['import', 'log.csv', '--carriage', 'hall-a/c1', '--seam', 'S1', '--run', '1', '--start', '2026-11-02T06:00:00Z', '--json'];

    const first = await run(args);
    expect(first.error).toBe('');
    // 600 A · 30 V · 60.1 s; 550 mm/min for 60.1 s; heat input of the lecture example in shared/weld/README.md.
    expect(JSON.parse(first.out)).toMatchObject({
      site: 'hall-a', carriage: 'c1', seam: 'S1', run: 1, startedAt: '2026-11-02T06:00:00.000Z',
      arcTime: 60.1, energy: 1081.8, method: 'average', import: { stored: 611, duplicate: 0 },
    });
    const { length, heatInput } = JSON.parse(first.out) as { length: number; heatInput: number };
    expect(length).toBeCloseTo(550.917, 3);
    expect(heatInput).toBeCloseTo(1.963636, 6);

    const again = JSON.parse((await run(args)).out) as Record<string, unknown>;
    expect(again).toEqual({ ...(JSON.parse(first.out) as object), import: { ...(again['import'] as object), stored: 0, duplicate: 611 } });
  });

  it('says when it listens, keeps others from its data directory, and ends in order', async () => {
    const service = spawn(process.execPath, [program, 'start'], { cwd: folder, env: env(), stdio: ['ignore', 'pipe', 'ignore'] });
    const ended = once(service, 'exit');
    const [said] = (await once(service.stdout, 'data')) as [Buffer];
    expect(said.toString()).toMatch(/^listening http=http:\/\/127\.0\.0\.1:\d+ mqtt=mqtt:\/\/127\.0\.0\.1:\d+\n$/);

    const second = await run(['start']);
    expect(second).toMatchObject({ code: 1, out: '' });
    expect(second.error).toContain('is in use by another process');

    service.kill('SIGTERM');
    expect(await ended).toEqual([0, null]);
    expect((await run(['check'])).code).toBe(0);
  });

  it('ends in order when it is stopped in the moment in which it says that it listens', async () => {
    for (let start = 0; start < 4; start += 1) {
      const service = spawn(process.execPath, [program, 'start'], { cwd: folder, env: env(), stdio: ['ignore', 'pipe', 'ignore'] });
      service.stdout.once('data', () => service.kill('SIGTERM'));
      expect(await once(service, 'exit')).toEqual([0, null]);
    }
  });

  it('ends with 2 and one line on wrong usage', async () => {
    for (const args of [['start', 'now'], ['demo', '--carriages', '0'], ['import'], ['welding']]) {
      const { code, out, error } = await run(args);
      expect({ args, code, out, lines: error.trimEnd().split('\n').length }).toEqual({ args, code: 2, out: '', lines: 1 });
    }
  });
});
