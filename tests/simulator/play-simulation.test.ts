import { createServer } from 'node:net';
import type { AddressInfo, Server, Socket } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { Aedes } from 'aedes';
import { afterEach, expect, test } from 'vitest';
import { playSimulation } from '../../services/simulator/play-simulation.js';
import { start } from './played-run.js';
import { simulatedMessages } from './simulated-messages.js';

interface Heard {
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
}

/** A real broker, and all that was published to it in the order of its arrival. */
interface TestBroker {
  readonly url: string;
  readonly heard: Heard[];
  readonly aedes: Aedes;
  readonly sockets: Set<Socket>;
  close(): Promise<void>;
}

const brokers: TestBroker[] = [];

async function startBroker(port = 0): Promise<TestBroker> {
  const aedes = await Aedes.createBroker();
  const server: Server = createServer(aedes.handle);
  const sockets = new Set<Socket>();
  const heard: Heard[] = [];
  server.on('connection', (socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
  });
  aedes.on('publish', (packet, client) => {
    if (client !== null || packet.topic.endsWith('/status')) {
      heard.push({ topic: packet.topic, payload: packet.payload.toString(), retain: packet.retain });
    }
  });
  await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', resolve));
  const { port: taken } = server.address() as AddressInfo;
  const broker: TestBroker = {
    url: `mqtt://127.0.0.1:${String(taken)}`,
    heard,
    aedes,
    sockets,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise<void>((resolve) => server.close(() => { resolve(); }));
      await new Promise<void>((resolve) => { aedes.close(() => { resolve(); }); });
    },
  };
  brokers.push(broker);
  return broker;
}

afterEach(async () => {
  await Promise.all(brokers.splice(0).map((broker) => broker.close()));
});

async function until(what: string, condition: () => boolean): Promise<void> {
  const end = performance.now() + 20_000;
  while (!condition()) {
    if (performance.now() > end) throw new Error(`not within 20 s: ${what}`);
    await sleep(20);
  }
}

const of = (heard: readonly Heard[], topic: string): string[] =>
  heard.filter((message) => message.topic === topic).map((message) => message.payload);

function expected(carriages: number, topic: string, count: number, block: number | null): string[] {
  const payloads: string[] = [];
  for (const message of simulatedMessages({ carriages, scenarios: [], rate: 10, block, seed: 1, start })) {
    if (message.topic === topic) payloads.push(message.payload);
    if (payloads.length === count) break;
  }
  return payloads;
}

const play = { carriages: 3, scenarios: [], rate: 10, block: null, seed: 1, speed: 20, start, log: (): void => undefined };

test.each([null, 500])('what arrives is what the pure simulation gives (block %s)', async (block) => {
  const broker = await startBroker();
  const end = new AbortController();
  const playing = playSimulation({ ...play, block, url: broker.url, signal: end.signal });
  const topic = 'weld/hall-a/c2/readings';
  await until('40 messages', () => of(broker.heard, topic).length >= 40);
  end.abort();
  await playing;
  const arrived = of(broker.heard, topic);
  expect(arrived).toEqual(expected(3, topic, arrived.length, block));
  for (const carriage of ['c1', 'c2', 'c3']) {
    expect(of(broker.heard, `weld/hall-a/${carriage}/status`)).toEqual(['online', 'offline']);
    expect(of(broker.heard, `weld/hall-a/${carriage}/assignment`)).toHaveLength(1);
  }
  for (const { topic: each, retain } of broker.heard) expect(retain).toBe(!each.endsWith('/readings'));
});

test('a cut connection makes the broker publish the last will', async () => {
  const broker = await startBroker();
  const end = new AbortController();
  const playing = playSimulation({ ...play, carriages: 1, url: broker.url, signal: end.signal });
  await until('readings', () => of(broker.heard, 'weld/hall-a/c1/readings').length > 0);
  for (const socket of broker.sockets) socket.destroy();
  await until('the will', () => of(broker.heard, 'weld/hall-a/c1/status').includes('offline'));
  await until('it is back', () => of(broker.heard, 'weld/hall-a/c1/status').filter((payload) => payload === 'online').length === 2);
  end.abort();
  await playing;
});

test('after a broker has died and come back empty, nothing above the stored mark is missing', async () => {
  const first = await startBroker();
  const port = Number(new URL(first.url).port);
  const end = new AbortController();
  const lines: string[] = [];
  const playing = playSimulation({ ...play, carriages: 1, url: first.url, signal: end.signal, log: (line) => lines.push(line) });
  const topic = 'weld/hall-a/c1/readings';
  await until('100 readings', () => of(first.heard, topic).length >= 100);
  const boot = (JSON.parse(of(first.heard, topic)[0] ?? '{}') as { boot: string }).boot;
  // As if the service behind this broker had stored seqs 0 to 29 and no more.
  const mark = JSON.stringify({ boots: [{ boot, first: 0, seq: 29, missing: [] }] });
  await new Promise<void>((resolve) => {
    first.aedes.publish(
      { cmd: 'publish', topic: 'weld/hall-a/c1/stored', payload: Buffer.from(mark), qos: 0, dup: false, retain: true },
      () => { resolve(); },
    );
  });
  await until('130 readings', () => of(first.heard, topic).length >= 130);
  await first.close();
  brokers.splice(0);
  await sleep(300);
  const second = await startBroker(port);
  await until('250 readings', () => of(second.heard, topic).length >= 250);
  end.abort();
  await playing;
  const seqs = of(second.heard, topic).map((payload) => (JSON.parse(payload) as { seq: number }).seq);
  // In order, from just above the mark, without a hole.
  expect(seqs).toEqual(seqs.map((_, place) => 30 + place));
  expect(lines).toEqual(expect.arrayContaining(['c1: connected', 'c1: connection lost, trying again']));
});

test('a broker that cannot be reached does not end the simulation, and stopping ends it at once', async () => {
  const broker = await startBroker();
  const { url } = broker;
  await broker.close();
  brokers.splice(0);
  const end = new AbortController();
  const lines: string[] = [];
  const playing = playSimulation({ ...play, carriages: 2, url, signal: end.signal, log: (line) => lines.push(line) });
  await sleep(1500);
  const before = performance.now();
  end.abort();
  await playing;
  expect(performance.now() - before).toBeLessThan(1000);
  // Told once each, not on every attempt.
  expect(lines).toHaveLength(2);
  expect(lines[0]).toContain(`no connection to ${url}`);
});
