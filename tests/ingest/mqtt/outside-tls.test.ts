import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { outsideBroker } from '../../../services/ingest/mqtt/outside-broker.js';
import { heldMessages } from './held-messages.js';
import { hasMosquitto, startMosquitto, type Mosquitto } from './start-mosquitto.js';
import { until } from './until.js';

const OPENSSL = '/usr/bin/openssl';

describe.skipIf(!hasMosquitto || !existsSync(OPENSSL))('an outside broker with TLS (needs mosquitto and openssl)', () => {
  let directory: string;
  let broker: Mosquitto;
  let url: string;

  beforeAll(async () => {
    directory = mkdtempSync(join(tmpdir(), 'tls-'));
    chmodSync(directory, 0o755);
    const [key, certificate] = [join(directory, 'key.pem'), join(directory, 'cert.pem')];
    execFileSync(OPENSSL, ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '2', '-subj', '/CN=broker', '-addext',
      'subjectAltName=IP:127.0.0.1', '-keyout', key, '-out', certificate], { stdio: 'ignore' });
    chmodSync(key, 0o644);
    broker = await startMosquitto([`certfile ${certificate}`, `keyfile ${key}`]);
    url = broker.url.replace('mqtt:', 'mqtts:');
  });
  afterAll(async () => {
    await broker.stop();
    rmSync(directory, { recursive: true });
  });

  it('is accepted if its authority is trusted', async () => {
    const held = heldMessages();
    const source = outsideBroker({ url, clientId: 'tls', ca: readFileSync(join(directory, 'cert.pem'), 'utf8') });
    expect(await source.start(held.onMessage)).toEqual({ url });
    source.publish('weld/a/b/assignment', '{"seam":null}', true);
    await until(() => held.all.length === 1, 'our own assignment');
    held.commit();
    await source.stop();
  });

  it('is not accepted if it is not trusted, and the log says why', async () => {
    const logged: string[] = [];
    const source = outsideBroker({ url, clientId: 'tls-2', log: (_level, text) => logged.push(text) });
    const start = source.start(() => undefined);
    const failed = expect(start).rejects.toThrow('stopped before');
    await until(() => logged.length > 0, 'a reason');
    await source.stop();
    await failed;
    expect(logged[0]).toMatch(/self.signed certificate/);
  });
});
