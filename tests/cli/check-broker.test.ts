import { execFile } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import { checkBroker } from '../../services/cli/broker-check/check-broker.js';
import { program } from '../faults/service-process.js';
import { hasMosquitto, startMosquitto, type Mosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { forgetfulProxy } from './forgetful-proxy.js';

describe.skipIf(!hasMosquitto)('check against a broker (needs /usr/sbin/mosquitto)', () => {
  let broker: Mosquitto | null = null;
  afterEach(async () => {
    await broker?.stop();
    broker = null;
  });

  async function findings(...configuration: string[]): Promise<string[]> {
    broker = await startMosquitto(configuration);
    return (await checkBroker(broker.url)).map(({ state, text }) => `${state}: ${text}`);
  }

  const wrongOnes = (all: readonly string[]): string[] => all.filter((line) => line.startsWith('wrong'));

  it('finds nothing wrong with one that keeps everything, and leaves nothing behind there', async () => {
    const all = await findings();
    expect(wrongOnes(all)).toEqual([]);
    expect(all.slice(0, -1)).toEqual([
      'ok: answers',
      'ok: lets this account publish and subscribe',
      'ok: keeps the session of a client that is away, and brings again what was not acknowledged when a connection was lost',
      'ok: keeps at least 5000 messages of 200 bytes for a session that is away',
      'ok: keeps retained messages',
      'ok: lets messages of 1024 KiB through, the longest that are accepted',
    ]);
    expect(all.at(-1)).toMatch(/^note: is mosquitto version \d+\.\d+\.\d+, up for \d+ seconds; .*cannot be seen from outside/);
    // Written at the end (mosquitto(8), SIGTERM): a session or a retained message would be found again.
    await broker?.pause();
    await broker?.restart();
    const client = await mqtt.connectAsync(broker?.url ?? '');
    const heard: string[] = [];
    client.on('message', (topic) => heard.push(topic));
    await client.subscribeAsync('weld/#', { qos: 1 });
    const inactive = new Promise<string>((resolve) => {
      client.on('message', (topic, payload) => {
        if (topic === '$SYS/broker/clients/disconnected') resolve(payload.toString());
      });
    });
    await client.subscribeAsync('$SYS/broker/clients/disconnected');
    expect(await inactive).toBe('0');
    expect(heard.filter((topic) => topic.startsWith('weld/'))).toEqual([]);
    await client.endAsync();
  });

  // Limits and what becomes of a message beyond them: mosquitto.conf(5).
  it.each([
    ['a queue of 1,000, its default', 'max_queued_messages 1000', /kept 1000 of 5000 messages .* with 4 carriages at 10 Hz that is 25 s/],
    ['a queue of 100,000 bytes', 'max_queued_bytes 100000', /kept 500 of 5000 messages of 200 bytes/],
    ['a message limit', 'message_size_limit 100000', /acknowledges a message of 1024 KiB and then drops it.*; messages of 64 KiB get through/],
    ['a packet limit', 'max_packet_size 100000', /does not take a message of 1024 KiB .*a carriage would send it for ever; messages of 64 KiB get through/],
    ['no retained messages', 'retain_available false', /accepts no retained messages/],
    ['QoS 0 only', 'max_qos 0', /does not pass on what this account publishes with QoS 1[^]*grants QoS 0 only/],
  ])('says what would be lost: %s', async (_name, line, expected) => {
    const wrong = wrongOnes(await findings(line));
    expect(wrong.join('\n')).toMatch(expected);
  });

  it('says what an account may not do', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'acl-'));
    try {
      // Started as root, the broker becomes another user, which has to read it.
      chmodSync(folder, 0o755);
      const acl = join(folder, 'acl');
      const rights = async (lines: readonly string[]): Promise<string[]> => {
        writeFileSync(acl, `${lines.join('\n')}\n`, { mode: 0o644 });
        await broker?.stop();
        return wrongOnes(await findings(`acl_file ${acl}`));
      };
      expect(await rights(['topic readwrite weld/+/+/+'])).toEqual([expect.stringMatching(/does not pass on what this account publishes with QoS 1 to weld\/seamwarden-check\/#/)]);
      expect(await rights(['topic read weld/#', 'topic write weld/seamwarden-check/+/+/+'])).toEqual([expect.stringMatching(/does not pass on the `stored` mark/)]);
      expect(await rights(['topic read weld/#', 'topic write weld/+/+/stored', 'topic readwrite weld/seamwarden-check/#'])).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('says that a broker keeps no sessions', async () => {
    broker = await startMosquitto();
    const proxy = await forgetfulProxy(broker.port);
    const wrong = (await checkBroker(proxy.url)).filter(({ state }) => state === 'wrong').map(({ text }) => text);
    await proxy.stop();
    expect(wrong).toEqual([expect.stringMatching(/forgets a session when its client disconnects/)]);
  });

  it('cannot reach one that refuses it or is not there', async () => {
    expect(await findings('allow_anonymous false')).toEqual(['wrong: cannot be reached: Connection refused: Not authorized']);
    const { url } = broker ?? { url: '' };
    await broker?.pause();
    expect(await checkBroker(url)).toEqual([{ state: 'wrong', text: expect.stringMatching(/^cannot be reached: connect ECONNREFUSED/) as unknown }]);
  });

  it('ends with 1 where something would lose data, and with 0 where nothing would', async () => {
    for (const [line, code] of [['max_queued_messages 0', 0], ['max_queued_messages 1000', 1]] as const) {
      broker = await startMosquitto([line]);
      const folder = mkdtempSync(join(tmpdir(), 'seamwarden-check-'));
      const env = { ...process.env, SEAMWARDEN_DATA_DIR: join(folder, 'data'), SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_URL: broker.url };
      const ended = await new Promise<{ code: number; out: string }>((resolve) => {
        execFile(process.execPath, [program, 'check'], { cwd: folder, env }, (error, out) => {
          resolve({ code: error === null ? 0 : Number(error.code), out });
        });
      });
      rmSync(folder, { recursive: true });
      expect(ended.code, ended.out).toBe(code);
      expect(ended.out.includes('\nwrong  SEAMWARDEN_MQTT_URL: 127.0.0.1:')).toBe(code === 1);
      await broker.stop();
    }
  });
});
