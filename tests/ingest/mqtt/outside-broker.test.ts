import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { MessageSource } from '../../../services/ingest/mqtt/message-source.js';
import { outsideBroker, type OutsideBrokerOptions } from '../../../services/ingest/mqtt/outside-broker.js';
import { heldMessages, type HeldMessages } from './held-messages.js';
import { freePort, hasMosquitto, startMosquitto, type Mosquitto } from './start-mosquitto.js';
import { tcpCutter, type TcpCutter } from './tcp-cutter.js';
import { pause, until } from './until.js';

const TOPIC = 'weld/hall-2/c1/readings';
const numbers = (count: number, from = 0): string[] => Array.from({ length: count }, (_, i) => `${from + i}`);

/** The messages that arrived, without duplicates. */
const distinct = (held: HeldMessages): string[] => [...new Set(held.texts())].filter((text) => !text.startsWith('marker')).sort((a, b) => Number(a) - Number(b));

describe.skipIf(!hasMosquitto)('an outside broker (needs /usr/sbin/mosquitto)', () => {
  let broker: Mosquitto;
  let cutter: TcpCutter;
  let carriage: MqttClient;
  let session = 0;
  let markers = 0;
  const sources: MessageSource[] = [];

  beforeAll(async () => {
    broker = await startMosquitto();
    cutter = await tcpCutter(broker.port);
    carriage = await connectAsync(broker.url);
  });
  afterEach(async () => {
    await Promise.all(sources.splice(0).map((source) => source.stop()));
    cutter.refuse(false);
  });
  afterAll(async () => {
    await carriage.endAsync(true);
    await cutter.stop();
    await broker.stop();
  });

  async function started(options: Partial<OutsideBrokerOptions> = {}, held = heldMessages()) {
    session += options.clientId === undefined ? 1 : 0;
    const clientId = options.clientId ?? `seamwarden-${session}`;
    const source = outsideBroker({ url: cutter.url, reconnect: { least: 20, most: 60 }, ...options, clientId });
    sources.push(source);
    const { url } = await source.start(held.onMessage);
    return { source, held, clientId, url };
  }

  const publish = (texts: readonly string[], topic = TOPIC): Promise<unknown> =>
    Promise.all(texts.map((text) => carriage.publishAsync(topic, text, { qos: 1 })));

  /** Waits for a message published now: the broker sends what it still has of the session before it. */
  async function caughtUp(held: HeldMessages): Promise<void> {
    markers += 1;
    const marker = `marker ${markers}`;
    await publish([marker]);
    await until(() => held.texts().includes(marker), marker, 30_000);
  }

  /** The messages that the broker still has for a session, as the next client of that name sees them; acknowledges them. */
  async function leftFor(clientId: string): Promise<readonly string[]> {
    const { held, source } = await started({ clientId });
    await caughtUp(held);
    held.commit();
    await source.stop();
    return held.texts().filter((text) => !text.startsWith('marker'));
  }

  it.each([4, 5] as const)('acknowledges what is committed and nothing else (protocol version %d)', async (protocolVersion) => {
    const { source, held, clientId, url } = await started({ protocolVersion });
    expect(url).toBe(cutter.url);
    await publish(numbers(500));
    await until(() => held.all.length === 500, 'all messages');
    expect(held.texts()).toEqual(numbers(500));
    held.commit(200);
    await source.stop();
    held.commit();
    expect(await leftFor(clientId)).toEqual(numbers(300, 200));
    expect(await leftFor(clientId)).toEqual([]);
  });

  it('receives the whole backlog from the time it was away, and acknowledges nothing unseen', async () => {
    const { source, clientId } = await started();
    await source.stop();
    await publish(numbers(2_000));
    // This recorder commits nothing: the next one must get all messages again.
    const blind = await started({ clientId });
    await until(() => blind.held.all.length === 2_000, 'the backlog');
    await blind.source.stop();
    const { held } = await started({ clientId });
    await until(() => held.all.length === 2_000, 'the backlog again');
    expect(held.texts()).toEqual(numbers(2_000));
    held.commit();
  });

  it('loses nothing where connections are cut with messages unacknowledged', async () => {
    const { source, held, clientId } = await started();
    const timer = setInterval(() => { held.commit(40); }, 3);
    const cuts = setInterval(() => { cutter.cut(); }, 120);
    for (let i = 0; i < 20; i++) {
      await publish(numbers(200, 200 * i));
      await pause(40);
    }
    clearInterval(cuts);
    await until(() => distinct(held).length === 4_000, 'every message', 30_000);
    // Messages of the last connection that was cut come again; until then the broker waits for acknowledgements.
    await caughtUp(held);
    clearInterval(timer);
    held.commit();
    await source.stop();
    expect(distinct(held)).toEqual(numbers(4_000));
    expect(held.all.length).toBeGreaterThan(4_000);
    expect(cutter.connections()).toBeGreaterThan(5);
    expect(await leftFor(clientId)).toEqual([]);
  });

  it('does not acknowledge on a new connection what belongs to an old one', async () => {
    const { source, held, clientId } = await started();
    await publish(numbers(100));
    await until(() => held.all.length === 100, 'all messages');
    const before = cutter.connections();
    cutter.cut();
    await until(() => cutter.connections() > before && held.all.length === 200, 'all of them again');
    // The first hundred came on the connection that is gone; its packet ids are in use again.
    for (const message of held.all.slice(0, 100)) message.acknowledge();
    await pause(50);
    await source.stop();
    expect(await leftFor(clientId)).toEqual(numbers(100));
  });

  it('accepts no more than may be uncommitted, and goes on below half', async () => {
    const limits = { messages: 100, bytes: 1024 * 1024 };
    const { held } = await started({ limits });
    await publish(numbers(1_000));
    await until(() => held.open() === 100, 'the limit');
    await pause(100);
    expect(held.all.length).toBe(100);
    held.commit(49);
    await pause(50);
    expect(held.all.length).toBe(100);
    held.commit(1);
    await until(() => held.all.length === 150, 'more');
    const timer = setInterval(() => { held.commit(); }, 1);
    await until(() => held.all.length === 1_000, 'all messages');
    clearInterval(timer);
    held.commit();
    expect(held.mostOpen()).toBe(100);
    expect(held.texts()).toEqual(numbers(1_000));
  });

  it('takes nothing behind an assignment that is not acknowledged, so that no earlier one can come again', async () => {
    const { source, held, clientId } = await started();
    await publish(['0']);
    await publish(['A1'], 'weld/hall-2/c1/assignment');
    await publish(['1']);
    await publish(['A2'], 'weld/hall-2/c1/assignment');
    await publish(['2']);
    await until(() => held.all.length === 2, 'the first assignment');
    await pause(100);
    expect(held.texts()).toEqual(['0', 'A1']);
    held.commit(1);
    await pause(50);
    expect(held.all.length).toBe(2);
    held.commit(1);
    await until(() => held.all.length === 4, 'the second assignment');
    await source.stop();
    // Unacknowledged messages come again; the first assignment was acknowledged.
    const again = heldMessages();
    const timer = setInterval(() => { again.commit(); }, 1);
    await started({ clientId }, again);
    await until(() => again.all.length === 3, 'the others');
    clearInterval(timer);
    again.commit();
    expect(again.texts()).toEqual(['1', 'A2', '2']);
  });

  it('is disconnected while held, gets everything afterwards, and reports both', async () => {
    const told: (string | null)[] = [];
    const { source, held } = await started({ onConnection: (_up, reason) => told.push(reason) });
    await publish(['0', '1']);
    await until(() => held.all.length === 2, 'the first two');
    source.hold(true);
    await pause(50);
    await publish(numbers(300, 2));
    // Earlier messages are not acknowledged by a commit after the connection was given up.
    held.commit();
    await pause(100);
    expect(held.all.length).toBe(2);
    source.hold(false);
    await until(() => held.all.length === 304, 'all, and the first two again');
    expect(held.texts().slice(2)).toEqual(numbers(302));
    held.commit();
    expect(told).toEqual([null, expect.stringContaining('given up'), null]);
  });

  it('flags a retained message, and leaves out our own kinds', async () => {
    await carriage.publishAsync('weld/a/r1/readings', 'old', { qos: 1, retain: true });
    const { source, held, clientId } = await started();
    await until(() => held.all.length === 1, 'the retained one');
    expect(held.all[0]).toMatchObject({ topic: 'weld/a/r1/readings', retained: true });
    for (const kind of ['live', 'alarms', 'stored']) await publish(['ours'], `weld/a/b/${kind}`);
    await carriage.publishAsync('weld/a/r1/readings', '', { qos: 1, retain: true });
    await publish(['new'], 'weld/a/b/status');
    await until(() => held.all.length === 3, 'the status');
    expect(held.all.slice(1).map(({ topic, retained }) => `${topic} ${retained}`)).toEqual([
      'weld/a/r1/readings false',
      'weld/a/b/status false',
    ]);
    held.commit();
    await source.stop();
    // Ours were acknowledged too: nothing is left at the broker.
    expect(await leftFor(clientId)).toEqual([]);
  });

  it('publishes our retained messages, the newest after a time without connection, and drops others', async () => {
    const { source } = await started();
    const seen: string[] = [];
    const page = await connectAsync(broker.url);
    page.on('message', (topic, payload) => seen.push(`${topic} ${payload.toString()}`));
    await page.subscribeAsync('weld/p/#', { qos: 1 });
    source.publish('weld/p/c/stored', '1', true);
    source.publish('weld/p/c/live', 'now', false);
    await until(() => seen.length === 2, 'both');
    cutter.refuse(true);
    cutter.cut();
    await pause(100);
    for (const n of ['2', '3', '4']) source.publish('weld/p/c/stored', n, true);
    source.publish('weld/p/c/live', 'nobody needs this later', false);
    cutter.refuse(false);
    await until(() => seen.length === 3, 'the newest');
    await pause(100);
    expect(seen.sort()).toEqual(['weld/p/c/live now', 'weld/p/c/stored 1', 'weld/p/c/stored 4']);
    await page.endAsync();
  });

  it('acknowledges a message of 10 MB by its head, so that it does not come again for ever', async () => {
    const { source, held, clientId } = await started();
    await carriage.publishAsync(TOPIC, Buffer.alloc(10_000_000, 'x'), { qos: 1 });
    await publish(['next']);
    await until(() => held.all.length === 2, 'both');
    expect(held.all[0]?.payload.length).toBeGreaterThan(1024 * 1024);
    expect(held.all[0]?.payload.length).toBeLessThan(2 * 1024 * 1024);
    held.commit();
    await pause(50);
    await source.stop();
    expect(await leftFor(clientId)).toEqual([]);
  });

  it('waits for a broker that is not there yet, and comes back to one that was away', async () => {
    const late = await startMosquitto();
    await late.pause();
    const held = heldMessages();
    const source = outsideBroker({ url: late.url, clientId: 'early', reconnect: { least: 20, most: 40 } });
    sources.push(source);
    const start = source.start(held.onMessage);
    await pause(200);
    await late.restart();
    expect(await start).toEqual({ url: late.url });
    // SIGKILL: it comes back without the session, so it has to subscribe again.
    await late.kill();
    await late.restart();
    const sender = await connectAsync(late.url);
    const timer = setInterval(() => { sender.publish(TOPIC, 'again', { qos: 1 }); }, 50);
    await until(() => held.all.length > 0, 'a message');
    clearInterval(timer);
    await sender.endAsync(true);
    await source.stop();
    await late.stop();
  });

  it('says plainly at the start that the broker refuses it', async () => {
    const strict = await startMosquitto(['allow_anonymous false']);
    const source = outsideBroker({ url: strict.url, clientId: 'nobody' });
    await expect(source.start(() => undefined)).rejects.toThrow(/^no connection to the MQTT broker at mqtt:\/\/127\.0\.0\.1:\d+: Connection refused: Not authorized$/);
    await strict.stop();
  });
});

describe('without an outside broker', () => {
  it('can be stopped while it still waits', async () => {
    const source = outsideBroker({ url: `mqtt://127.0.0.1:${await freePort()}`, clientId: 'x', reconnect: { least: 20, most: 40 } });
    const start = source.start(() => undefined);
    const failed = expect(start).rejects.toThrow('stopped before there was a connection');
    await pause(100);
    await source.stop();
    await failed;
  });

  it.each([
    ['http://host:1', '"http://host:1" is no address of an MQTT broker: expected mqtt://HOST:PORT or mqtts://HOST:PORT'],
    ['broker', '"broker" is no address of an MQTT broker: expected mqtt://HOST:PORT or mqtts://HOST:PORT'],
    ['mqtt://host/path', '"mqtt://host/path" is no address of an MQTT broker: expected mqtt://HOST:PORT or mqtts://HOST:PORT'],
  ])('refuses the address %s', (url, reason) => {
    expect(() => outsideBroker({ url, clientId: 'x' })).toThrow(reason);
  });
});
