import { connect } from 'node:net';
import { connectAsync, type MqttClient } from 'mqtt';
import { generate } from 'mqtt-packet';
import { afterEach, describe, expect, it } from 'vitest';
import { embeddedBroker, type EmbeddedBrokerOptions } from '../../../services/ingest/mqtt/embedded-broker.js';
import type { MessageSource } from '../../../services/ingest/mqtt/message-source.js';
import { fixedHeader } from '../../../services/ingest/mqtt/packet-frames.js';
import { heldMessages, type HeldMessages } from './held-messages.js';
import { publishPacket, rawClient, type RawClient } from './raw-client.js';
import { pause, until } from './until.js';

const TOPIC = 'weld/hall-2/c1/readings';
const MiB = 1024 * 1024;
const sources: MessageSource[] = [];
const raws: RawClient[] = [];

afterEach(async () => {
  for (const { socket } of raws.splice(0)) socket.destroy();
  await Promise.all(sources.splice(0).map((source) => source.stop()));
});

async function broker(options: Partial<EmbeddedBrokerOptions> = {}) {
  const logged: string[] = [];
  const held: HeldMessages = heldMessages();
  const source = embeddedBroker({ host: '127.0.0.1', port: 0, log: (_level, text) => logged.push(text), ...options });
  sources.push(source);
  const { url } = await source.start(held.onMessage);
  const raw = async (clientId: string, keepalive = 0): Promise<RawClient> => {
    const made = await rawClient(url, { clientId, keepalive });
    raws.push(made);
    return made;
  };
  return { source, held, url, raw, logged };
}

/** Many messages at once, numbered from 0. */
const flood = (count: number, payload = 'x'): Buffer =>
  Buffer.concat(Array.from({ length: count }, (_, i) => generate(publishPacket(TOPIC, `${i} ${payload}`, 1, (i % 65_535) + 1))));

describe('bounds of the embedded broker', () => {
  it('reads no more than a client may have open, goes on when half is committed, and loses nothing', async () => {
    const limits = { messages: 200, bytes: MiB, clientMessages: 100, clientBytes: MiB };
    const { held, raw } = await broker({ limits });
    const sender = await raw('flood');
    sender.socket.write(flood(5_000));
    await until(() => held.open() === 100, 'the limit');
    await pause(100);
    expect(held.open()).toBe(100);
    held.commit(49);
    await pause(30);
    expect(held.all.length).toBe(100);
    const timer = setInterval(() => { held.commit(); }, 1);
    await until(() => sender.acknowledged().length === 5_000, 'all acknowledgements', 30_000);
    clearInterval(timer);
    expect(held.mostOpen()).toBe(100);
    expect(held.texts()).toEqual(Array.from({ length: 5_000 }, (_, i) => `${i} x`));
  });

  it('reads no more bytes than may be open, and stops reading the socket', async () => {
    const limits = { messages: 1e6, bytes: 2 * MiB, clientMessages: 1e6, clientBytes: MiB };
    const { held, raw } = await broker({ limits });
    const sender = await raw('flood');
    sender.socket.write(flood(400, 'x'.repeat(100_000)));
    await until(() => held.open() === 10, 'the limit');
    await pause(200);
    expect(held.open()).toBe(10);
    // 40 MB were written. Whatever neither we nor the kernel have read is still at the sender.
    expect(sender.socket.writableLength).toBeGreaterThan(20 * MiB);
    const timer = setInterval(() => { held.commit(); }, 1);
    await until(() => sender.acknowledged().length === 400, 'all acknowledgements', 30_000);
    clearInterval(timer);
  });

  it('bounds all clients together, gives each a turn, and leaves room for one that sends little', async () => {
    const limits = { messages: 60, bytes: MiB, clientMessages: 30, clientBytes: MiB };
    const { held, raw } = await broker({ limits });
    const senders = await Promise.all(['a', 'b', 'c', 'd'].map((name) => raw(name)));
    for (const { socket } of senders) socket.write(flood(500));
    const timer = setInterval(() => { held.commit(); }, 2);
    await until(() => senders.every((sender) => sender.acknowledged().length === 500), 'all of all', 30_000);
    clearInterval(timer);
    expect(held.mostOpen()).toBeLessThanOrEqual(60);
  });

  it('accepts nothing while held, still answers pings, and goes on afterwards', async () => {
    const { source, held, raw } = await broker();
    const sender = await raw('c1', 1);
    source.hold(true);
    sender.send(publishPacket(TOPIC, 'late', 1, 1));
    for (let i = 0; i < 6; i++) {
      sender.send({ cmd: 'pingreq' });
      await pause(500);
    }
    // Three seconds are twice what a keepalive of 1 s allows (MQTT 3.1.1, 3.1.2.10).
    expect(sender.closed()).toBe(false);
    expect(sender.received.filter(({ cmd }) => cmd === 'pingresp').length).toBe(6);
    expect(held.all).toEqual([]);
    source.hold(false);
    await until(() => held.all.length === 1, 'the message');
    held.commit();
    await until(() => sender.acknowledged().length === 1, 'PUBACK');
  });

  it('keeps a client connected whose messages wait long for their commit', async () => {
    const { held, url } = await broker();
    const client: MqttClient = await connectAsync(url, { keepalive: 1, reconnectPeriod: 0 });
    let gone = false;
    client.on('close', () => (gone = true));
    const sent = Array.from({ length: 50 }, (_, i) => client.publishAsync(TOPIC, `${i}`, { qos: 1 }));
    await pause(4_000);
    expect([gone, held.all.length]).toEqual([false, 50]);
    held.commit();
    await Promise.all(sent);
    await client.endAsync();
  });

  it('closes a client that is silent for one and a half times its keepalive (MQTT 3.1.1, 3.1.2.10)', async () => {
    const { raw, logged } = await broker();
    const silent = await raw('quiet', 1);
    await pause(1_200);
    expect(silent.closed()).toBe(false);
    await until(() => silent.closed(), 'end of connection', 2_000);
    expect(logged.join()).toMatch(/quiet at 127\.0\.0\.1:\d+: silent/);
  });

  it('frees what a client took with it that never reached the recorder', async () => {
    const limits = { messages: 100, bytes: MiB, clientMessages: 50, clientBytes: MiB };
    const { held, raw } = await broker({ limits });
    for (let i = 0; i < 10; i++) {
      const sender = await raw(`s${i}`);
      sender.socket.write(flood(300));
      await until(() => held.open() >= 50, 'the limit');
      sender.socket.resetAndDestroy();
      await pause(10);
      held.commit();
    }
    const last = await raw('last');
    const timer = setInterval(() => { held.commit(); }, 2);
    last.socket.write(flood(300));
    await until(() => last.acknowledged().length === 300, 'all acknowledgements');
    clearInterval(timer);
    expect(held.mostOpen()).toBeLessThanOrEqual(100);
  });

  it('hands on a message of 7 MiB, for the recorder to refuse', async () => {
    const { held, raw } = await broker();
    const sender = await raw('big');
    sender.send(publishPacket(TOPIC, Buffer.alloc(7 * MiB, 1), 1, 1));
    await until(() => held.all.length === 1, 'the message');
    expect(held.all[0]?.payload.length).toBe(7 * MiB);
    held.commit();
    await until(() => sender.acknowledged().length === 1, 'PUBACK');
  });

  it('closes a client at the header of a packet of more than 8 MiB and says why', async () => {
    const { held, raw, logged } = await broker();
    const sender = await raw('huge');
    // The header alone: nothing of the body was sent, so nothing was buffered.
    sender.socket.write(Buffer.from([0x32, 0xff, 0xff, 0xff, 0x7f]));
    await until(() => sender.closed(), 'end of connection');
    expect(logged.join()).toContain('a packet of 268435455 bytes; at most 8388608 are accepted');
    expect(held.all).toEqual([]);
  });

  it('cuts such a message to its head instead, if so configured, and acknowledges it', async () => {
    const { held, raw } = await broker({ oversize: 'trim' });
    const sender = await raw('huge');
    sender.send(publishPacket(TOPIC, Buffer.alloc(10 * MiB, 1), 1, 1), publishPacket(TOPIC, 'next', 1, 2));
    await until(() => held.all.length === 2, 'both messages');
    expect(held.all[0]?.payload.length).toBeGreaterThan(MiB);
    held.commit();
    await until(() => sender.acknowledged().length === 2, 'PUBACKs');
  });

  it('cuts off a subscriber that does not read, and no publisher waits for it', async () => {
    const { held, raw, logged } = await broker();
    const timer = setInterval(() => { held.commit(); }, 2);
    const sleeper = await raw('sleeper');
    sleeper.send({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic: 'weld/#', qos: 0 }] });
    await until(() => sleeper.received.some(({ cmd }) => cmd === 'suback'), 'SUBACK');
    sleeper.socket.pause();
    const sender = await raw('sender');
    sender.socket.write(flood(600, 'x'.repeat(50_000)));
    await until(() => sender.acknowledged().length === 600, 'all acknowledgements', 20_000);
    await until(() => logged.some((text) => /sleeper at .*: left \d+ bytes unread/.test(text)), 'the reason');
    clearInterval(timer);
  });
});

describe('packets that are never finished, and clients that do nothing', () => {
  /** A packet of that type byte whose header announces `length` bytes, with only `given` of them. */
  const unfinished = (firstByte: number, length: number, given: number): Buffer => Buffer.concat([fixedHeader(firstByte, length), Buffer.alloc(given, 1)]);

  it.each([
    ['SUBSCRIBE of 8 MiB', 0x82, 8 * MiB - 1],
    ['UNSUBSCRIBE of 257 KiB', 0xa2, 257 * 1024],
  ])('closes a client at the header of a %s', async (_name, firstByte, length) => {
    const { raw, logged } = await broker();
    const client = await raw('long');
    client.socket.write(unfinished(firstByte, length, 16));
    await until(() => client.closed(), 'the end of the connection');
    expect(logged.join()).toMatch(new RegExp(`MQTT client long at .*: a packet of type \\d+ with ${length} bytes, at most 262144`));
  });

  it('closes a connection at the header of a CONNECT that is longer than one can be', async () => {
    const { url } = await broker();
    const { hostname, port } = new URL(url);
    const socket = connect(Number(port), hostname);
    socket.on('error', () => undefined);
    socket.write(unfinished(0x10, 8 * MiB - 1, 16));
    await until(() => socket.closed, 'the end of the connection');
  });

  it('closes a client that leaves a packet unfinished for too long, however steadily its bytes come', { timeout: 20_000 }, async () => {
    const { raw, logged, held } = await broker({ packetWithin: 1_000 });
    const [slow, works] = [await raw('slow'), await raw('works')];
    // 8 KiB at 16 KiB/s take half a second: by hand 1.5 s in all, reported as 2.
    slow.socket.write(unfinished(0x32, 8 * 1024, 100));
    const trickle = setInterval(() => slow.socket.write(Buffer.alloc(1, 1)), 100);
    const begun = performance.now();
    let sent = 0;
    while (!slow.closed() && performance.now() - begun < 15_000) {
      sent += 1;
      works.send(publishPacket(TOPIC, `${sent}`, 1, sent));
      await pause(50);
      held.commit();
    }
    clearInterval(trickle);
    expect(slow.closed()).toBe(true);
    expect(performance.now() - begun).toBeGreaterThan(1_400);
    expect(logged.join()).toMatch(/MQTT client slow at .*: a packet of 8192 bytes was not complete after 2 s/);
    // A client that finishes its packets may continue for as long as it likes.
    await until(() => works.acknowledged().length === sent || (held.commit(), false), 'its acknowledgements');
    expect(works.closed()).toBe(false);
  });

  it('closes a client that sends nothing within seconds', { timeout: 20_000 }, async () => {
    const { url, logged } = await broker();
    const { hostname, port } = new URL(url);
    const socket = connect(Number(port), hostname);
    socket.on('error', () => undefined);
    await until(() => socket.closed, 'the end of the connection', 15_000);
    expect(logged.join()).toContain('no CONNECT within 5 s');
  });

  it('lets a carriage in while a thousand connections say nothing, and keeps those that work', { timeout: 60_000 }, async () => {
    const { url, raw, held } = await broker();
    const { hostname, port } = new URL(url);
    const working = await raw('works');
    working.send(publishPacket(TOPIC, 'first', 1, 1));
    await until(() => held.open() === 1, 'the message');
    held.commit();
    const silent = Array.from({ length: 1_200 }, () => connect(Number(port), hostname).on('error', () => undefined));
    await until(() => silent.filter((socket) => socket.closed).length >= 201, 'those too many to be closed', 10_000);
    const begun = performance.now();
    const newcomer = await raw('comes');
    expect(performance.now() - begun).toBeLessThan(3_000);
    newcomer.send(publishPacket(TOPIC, 'second', 1, 1));
    working.send(publishPacket(TOPIC, 'third', 1, 2));
    await until(() => held.open() === 2, 'both messages');
    held.commit();
    await until(() => newcomer.acknowledged().length === 1 && working.acknowledged().length === 2, 'both acknowledgements');
    expect(working.closed()).toBe(false);
    for (const socket of silent) socket.destroy();
  });

  it('takes a hundred subscriptions of a client, and tells nobody of the others', async () => {
    const { raw } = await broker();
    const client = await raw('reads');
    const subscribe = (from: number, count: number): void => {
      client.send({ cmd: 'subscribe', messageId: from + 1, subscriptions: Array.from({ length: count }, (_, i) => ({ topic: `t/${from + i}`, qos: 0 as const })) });
    };
    subscribe(0, 60);
    subscribe(60, 60);
    await until(() => client.received.filter(({ cmd }) => cmd === 'suback').length === 2, 'both SUBACKs');
    const granted = client.received.flatMap((packet) => (packet.cmd === 'suback' ? (packet.granted as number[]) : []));
    // MQTT 3.1.1, 3.9.3: 0x80 is a failure.
    expect(granted.filter((code) => code === 0x80)).toHaveLength(20);
    expect(client.closed()).toBe(false);
    const watcher = await raw('watches');
    watcher.send({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic: '$SYS/#', qos: 0 }, { topic: '#', qos: 0 }] });
    await until(() => watcher.received.some(({ cmd }) => cmd === 'suback'), 'its SUBACK');
    await raw('another');
    await pause(300);
    expect(watcher.received.filter(({ cmd }) => cmd === 'publish')).toEqual([]);
  });
});
