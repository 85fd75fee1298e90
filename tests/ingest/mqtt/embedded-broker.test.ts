import { once } from 'node:events';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { embeddedBroker } from '../../../services/ingest/mqtt/embedded-broker.js';
import type { MessageSource } from '../../../services/ingest/mqtt/message-source.js';
import { heldMessages, type HeldMessages } from './held-messages.js';
import { publishPacket, rawClient } from './raw-client.js';
import { pause, until } from './until.js';

let source: MessageSource;
let held: HeldMessages;
let url: string;
const logged: string[] = [];
const clients: MqttClient[] = [];

beforeEach(async () => {
  logged.length = 0;
  held = heldMessages();
  source = embeddedBroker({ host: '127.0.0.1', port: 0, log: (_level, text) => logged.push(text) });
  ({ url } = await source.start(held.onMessage));
});

afterEach(async () => {
  await Promise.all(clients.splice(0).map((client) => client.endAsync(true)));
  await source.stop();
});

async function client(options: Parameters<typeof connectAsync>[1] = {}): Promise<MqttClient> {
  const made = await connectAsync(url, { reconnectPeriod: 0, ...options });
  made.on('error', () => undefined);
  clients.push(made);
  return made;
}

const TOPIC = 'weld/hall-2/c1/readings';

describe('acknowledgements of the embedded broker', () => {
  it.each([['puback', 1], ['pubrec', 2]] as const)('sends no %s before the commit', async (cmd, qos) => {
    const raw = await rawClient(url);
    raw.send(publishPacket(TOPIC, 'one', qos, 5));
    await until(() => held.all.length === 1, 'the message');
    await pause(100);
    expect(raw.acknowledged(cmd)).toEqual([]);
    expect(held.all[0]).toMatchObject({ topic: TOPIC, retained: false });
    held.commit();
    await until(() => raw.acknowledged(cmd).length === 1, cmd);
    expect(raw.acknowledged(cmd)).toEqual([5]);
    raw.socket.destroy();
  });

  it('keeps the order of 1,000 pipelined messages ([MQTT-4.6.0-2]), whatever the order of commits', async () => {
    const raw = await rawClient(url);
    const ids = Array.from({ length: 1_000 }, (_, i) => ((i * 7_919) % 65_535) + 1);
    raw.send(...ids.map((id) => publishPacket(TOPIC, `${id}`, 1, id)));
    await until(() => held.all.length === 1_000, 'all messages');
    expect(held.texts()).toEqual(ids.map(String));
    for (const message of held.all.slice(500)) message.acknowledge();
    await pause(50);
    expect(raw.acknowledged()).toEqual([]);
    for (const message of held.all.slice(0, 500).reverse()) message.acknowledge();
    await until(() => raw.acknowledged().length === 1_000, 'all acknowledgements');
    expect(raw.acknowledged()).toEqual(ids);
    raw.socket.destroy();
  });

  it('brings 1,000 messages once each where commits come every 5 ms', async () => {
    const timer = setInterval(() => { held.commit(); }, 5);
    const [one, two] = [await client({ clientId: 'one' }), await client({ clientId: 'two' })];
    const numbers = Array.from({ length: 500 }, (_, i) => i);
    await Promise.all(numbers.flatMap((i) => [
      one.publishAsync(TOPIC, `one ${i}`, { qos: 1 }),
      two.publishAsync('weld/hall-2/c2/readings', `two ${i}`, { qos: 1 }),
    ]));
    clearInterval(timer);
    const of = (name: string): string[] => held.texts().filter((text) => text.startsWith(name));
    expect(of('one')).toEqual(numbers.map((i) => `one ${i}`));
    expect(of('two')).toEqual(numbers.map((i) => `two ${i}`));
    expect(held.open()).toBe(0);
  });

  it('does nothing if the client is gone by then, and gets the message again', async () => {
    const raw = await rawClient(url);
    raw.send(publishPacket(TOPIC, 'lost?', 1, 1));
    await until(() => held.all.length === 1, 'the message');
    raw.socket.resetAndDestroy();
    await pause(50);
    held.commit();
    held.all[0]?.acknowledge();
    const again = await rawClient(url);
    again.send({ ...publishPacket(TOPIC, 'lost?', 1, 1), dup: true });
    await until(() => held.all.length === 2, 'it again');
    held.commit();
    await until(() => again.acknowledged().length === 1, 'PUBACK');
    again.socket.destroy();
  });

  it('sends the due ones when it stops, and no others', async () => {
    const raw = await rawClient(url);
    raw.send(...[1, 2, 3].map((id) => publishPacket(TOPIC, `${id}`, 1, id)));
    await until(() => held.all.length === 3, 'the messages');
    held.commit(2);
    await source.stop();
    await until(() => raw.closed(), 'end of connection');
    held.commit();
    expect(raw.acknowledged()).toEqual([1, 2]);
  });

  it('takes messages that a client sends before it has its CONNACK (MQTT 3.1.1, 3.1.4 allows it)', async () => {
    const { connect } = await import('node:net');
    const { generate } = await import('mqtt-packet');
    const socket = connect(Number(new URL(url).port), '127.0.0.1');
    await once(socket, 'connect');
    const packets = Array.from({ length: 200 }, (_, i) => publishPacket(TOPIC, `${i}`, 1, i + 1));
    const hello = generate({ cmd: 'connect', protocolId: 'MQTT', protocolVersion: 4, clean: true, clientId: 'eager', keepalive: 0 });
    socket.write(Buffer.concat([hello, ...packets.map((packet) => generate(packet))]));
    await until(() => held.all.length === 200, 'all of them');
    socket.destroy();
  });
});

describe('what the embedded broker passes on', () => {
  it('forwards a message to others only after its commit', async () => {
    const lamp = await client();
    const seen: string[] = [];
    lamp.on('message', (topic, payload) => seen.push(`${topic} ${payload.toString()}`));
    await lamp.subscribeAsync('weld/#', { qos: 1 });
    const carriage = await client();
    carriage.publish(TOPIC, 'x', { qos: 1 });
    await until(() => held.all.length === 1, 'the message');
    await pause(50);
    expect(seen).toEqual([]);
    held.commit();
    await until(() => seen.length === 1, 'the lamp');
    expect(seen).toEqual([`${TOPIC} x`]);
  });

  it('passes a QoS 0 message on whose sender has left', async () => {
    const lamp = await client();
    const seen: string[] = [];
    lamp.on('message', (topic) => seen.push(topic));
    await lamp.subscribeAsync('weld/#');
    const raw = await rawClient(url);
    raw.send(publishPacket(TOPIC, 'x', 0), { cmd: 'disconnect' });
    await until(() => held.all.length === 1, 'the message');
    await pause(50);
    held.commit();
    await until(() => seen.length === 1, 'the lamp');
  });

  it('hands on what a client publishes in our name, acknowledges it, and forwards it to nobody', async () => {
    const lamp = await client();
    const seen: string[] = [];
    lamp.on('message', (topic) => seen.push(topic));
    await lamp.subscribeAsync(['weld/#', '$seamwarden/#']);
    const raw = await rawClient(url);
    raw.send(...['live', 'alarms', 'stored'].map((kind, i) => publishPacket(`weld/a/b/${kind}`, 'forged', 1, i + 1, true)));
    await until(() => held.all.length === 3, 'the messages');
    expect(held.all.map(({ topic }) => topic)).toEqual(['weld/a/b/live', 'weld/a/b/alarms', 'weld/a/b/stored']);
    held.commit();
    await until(() => raw.acknowledged().length === 3, 'PUBACKs');
    const late = await client();
    late.on('message', (topic) => seen.push(topic));
    await late.subscribeAsync(['weld/#', '$seamwarden/#']);
    await pause(100);
    expect(seen).toEqual([]);
    raw.socket.destroy();
  });

  it('flags a retained reading and does not keep it, but keeps status and assignment', async () => {
    const timer = setInterval(() => { held.commit(); }, 5);
    const carriage = await client();
    for (const kind of ['readings', 'senml', 'status', 'assignment', 'other']) {
      await carriage.publishAsync(`weld/a/b/${kind}`, kind, { qos: 1, retain: true });
    }
    clearInterval(timer);
    expect(held.all.map(({ retained }) => retained)).toEqual([true, true, true, true, true]);
    const late = await client();
    const seen: string[] = [];
    late.on('message', (topic, _payload, packet) => seen.push(`${topic} ${packet.retain}`));
    await late.subscribeAsync('weld/#', { qos: 1 });
    await until(() => seen.length >= 2, 'retained messages');
    await pause(50);
    expect(seen.sort()).toEqual(['weld/a/b/assignment true', 'weld/a/b/status true']);
  });

  it('keeps our own retained messages for later subscribers, and forgets them when they are empty', async () => {
    for (const kind of ['assignment', 'alarms', 'stored']) source.publish(`weld/a/b/${kind}`, `{"k":"${kind}"}`, true);
    source.publish('weld/a/b/live', '{}', false);
    source.publish('weld/a/b/assignment', '', true);
    await pause(20);
    const late = await client();
    const seen: string[] = [];
    late.on('message', (topic, payload) => seen.push(`${topic} ${payload.toString()}`));
    await late.subscribeAsync('weld/#', { qos: 1 });
    await until(() => seen.length === 2, 'retained messages');
    source.publish('weld/a/b/live', '{"n":1}', false);
    await until(() => seen.length === 3, 'the live message');
    expect(seen).toEqual(['weld/a/b/alarms {"k":"alarms"}', 'weld/a/b/stored {"k":"stored"}', 'weld/a/b/live {"n":1}']);
    expect(held.all).toEqual([]);
  });

  it('hands on the last will of a client that vanishes, and keeps it as retained', async () => {
    const vanishing = await rawClient(url, {
      clientId: 'c9',
      will: { topic: 'weld/a/c9/status', payload: Buffer.from('offline'), qos: 1, retain: true },
    });
    // Because of the subscription, its end takes the broker several turns.
    vanishing.send({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic: 'weld/a/c9/assignment', qos: 1 }] });
    vanishing.send(publishPacket('weld/a/c9/readings', 'last', 1, 7));
    await until(() => held.all.length === 1, 'the reading');
    vanishing.socket.resetAndDestroy();
    await until(() => held.all.length === 2, 'the will');
    expect(held.all[1]).toMatchObject({ topic: 'weld/a/c9/status', retained: true });
    expect(held.texts()[1]).toBe('offline');
    held.commit();
    await pause(50);
    const late = await client();
    const seen: string[] = [];
    late.on('message', (topic, payload) => seen.push(`${topic} ${payload.toString()}`));
    await late.subscribeAsync('weld/+/+/status');
    await until(() => seen.length === 1, 'the kept will');
    expect(seen).toEqual(['weld/a/c9/status offline']);
  });

  it('does not hand on the will of a client that says goodbye', async () => {
    const leaving = await client({ will: { topic: 'weld/a/c9/status', payload: Buffer.from('offline'), qos: 1, retain: true } });
    await leaving.endAsync();
    await pause(100);
    expect(held.all).toEqual([]);
  });

  it('closes a client that publishes to a topic of the broker', async () => {
    const raw = await rawClient(url);
    raw.send(publishPacket('$SYS/x', 'x', 1, 1));
    await until(() => raw.closed(), 'end of connection');
    expect(raw.acknowledged()).toEqual([]);
    expect(held.all).toEqual([]);
  });

  it('passes other topics on without asking the recorder', async () => {
    const lamp = await client();
    const seen: string[] = [];
    lamp.on('message', (topic) => seen.push(topic));
    await lamp.subscribeAsync('hall/#');
    await (await client()).publishAsync('hall/lamp', 'on', { qos: 1 });
    await until(() => seen.length === 1, 'the lamp');
    expect(held.all).toEqual([]);
  });
});

describe('starting the embedded broker', () => {
  it('says plainly that the port is taken', async () => {
    const { port } = new URL(url);
    const second = embeddedBroker({ host: '127.0.0.1', port: Number(port) });
    await expect(second.start(() => undefined)).rejects.toThrow(`The MQTT broker cannot listen on 127.0.0.1:${port}: the port is taken`);
    await second.stop();
  });
});
