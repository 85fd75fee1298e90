import { rmSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { scratchDir, startProcess, type ProcessOptions, type ServiceProcess } from './service-process.js';

const dirs: { remove(): void }[] = [];
const running: ServiceProcess[] = [];

function folder(): string {
  const dir = scratchDir();
  dirs.push(dir);
  return dir.path;
}

function start(options: ProcessOptions): ServiceProcess {
  const service = startProcess(options);
  running.push(service);
  return service;
}

/** The lines on stderr that are not log entries, and the exit code. */
async function refusal(options: ProcessOptions): Promise<{ readonly code: number | null; readonly lines: readonly string[] }> {
  const service = start(options);
  const code = await service.ended;
  return { code, lines: service.stderr().split('\n').filter((line) => line !== '' && !line.startsWith('{"level"')) };
}

afterEach(async () => {
  await Promise.all(running.splice(0).map((service) => service.kill('SIGTERM')));
  for (const dir of dirs.splice(0)) dir.remove();
});

describe('one process to a data directory', () => {
  it('refuses a second one with one line, and leaves the first alone', async () => {
    const dataDir = folder();
    const first = start({ dataDir });
    const { http } = await first.listening;
    const { code, lines } = await refusal({ dataDir });
    expect(code).toBe(1);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(dataDir);
    expect(lines[0]).toContain('in use');
    expect((await fetch(`${http}/api/health`)).status).toBe(200);
  });

  it('takes over the directory at once from a process that was killed', async () => {
    const dataDir = folder();
    const first = start({ dataDir });
    await first.listening;
    await first.kill('SIGKILL');
    await expect(start({ dataDir }).listening).resolves.toHaveProperty('http');
  });
});

describe('a lock that was tampered with', () => {
  it('refuses a second process where its file was removed from under the first', async () => {
    const dataDir = folder();
    const first = start({ dataDir });
    const { http } = await first.listening;
    rmSync(join(dataDir, 'lock'));
    const { code, lines } = await refusal({ dataDir });
    expect([code, lines]).toEqual([1, [expect.stringContaining('in use') as string]]);
    expect((await fetch(`${http}/api/health`)).status).toBe(200);
    // Once the first has ended, the directory is to be had.
    await first.kill('SIGKILL');
    rmSync(join(dataDir, 'lock'), { force: true });
    await expect(start({ dataDir }).listening).resolves.toHaveProperty('http');
  });

  it('does not call a file of another kind a process', async () => {
    const dataDir = folder();
    writeFileSync(join(dataDir, 'lock'), 'this is no lock '.repeat(100));
    const { code, lines } = await refusal({ dataDir });
    expect([code, lines]).toEqual([1, [expect.stringMatching(/lock is not the lock that this program makes .*Remove it if no service runs on/) as string]]);
  });
});

describe('what stops the start', () => {
  it.each([
    ['SEAMWARDEN_RUN_END_AFTER', 'soon', 'number'],
    ['SEAMWARDEN_HTTP_PORT', '70000', '65535'],
    ['SEAMWARDEN_HTTP_HOST', '0.0.0.0', 'loopback'],
    ['SEAMWARDEN_MQTT_URL', 'http://127.0.0.1:1883', 'mqtt://'],
    ['SEAMWARDEN_TIME_ZONE', 'Mars/Olympus', 'IANA'],
    ['SEAMWARDEN_LATE_FOR', '-1', 'number'],
    ['SEAMWARDEN_ARC_OFF_CURRENT', '50', 'SEAMWARDEN_ARC_ON_CURRENT'],
    ['SEAMWARDEN_MAX_HOLDS', '1', 'SEAMWARDEN_MAX_HOLD'],
  ])('%s=%s, in one line that names it and what it takes', async (name, value, takes) => {
    const { code, lines } = await refusal({ dataDir: folder(), env: { [name]: value } });
    expect(code).toBe(1);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(name);
    expect(lines[0]).toContain(takes);
  });

  it.each(['SEAMWARDEN_HTTP_PORT', 'SEAMWARDEN_MQTT_PORT'])('a port that is taken: %s', async (name) => {
    const server = createServer();
    await new Promise<void>((resolve) => {
      server.listen(0, '127.0.0.1', resolve);
    });
    const { port } = server.address() as AddressInfo;
    const dataDir = folder();
    const { code, lines } = await refusal({ dataDir, env: { [name]: String(port) } });
    expect(code).toBe(1);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(String(port));
    expect(lines[0]).toContain(name);
    await new Promise((resolve) => server.close(resolve));
    // Nothing of the failed start is in the way of the next one.
    await expect(start({ dataDir }).listening).resolves.toHaveProperty('http');
  });

  it('a data directory that cannot be used', async () => {
    const { code, lines } = await refusal({ dataDir: '/dev/null/data' });
    expect(code).toBe(1);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain('/dev/null/data');
    expect(lines[0]).toContain('SEAMWARDEN_DATA_DIR');
    expect(lines[0]).toContain('the path of a folder');
  });
});
