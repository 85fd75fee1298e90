import mqtt from 'mqtt';
import { getContainerRuntimeClient } from 'testcontainers';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { awaitMark, runsOf, until } from '../faults/ask-service.js';
import { shown, underSeed } from '../faults/outcome.js';
import { brokerKillScenario } from './broker-kill-scenario.js';
import { findCompose } from './compose-command.js';
import { composed } from './composed-scenario.js';
import { containerEngine } from './container-engine.js';
import { containerImages, type Images } from './container-images.js';
import { containersOf, startAgain, stopContainer, type Containers } from './start-containers.js';
import { stopScenario } from './stop-scenario.js';

// It takes a minute and a half, and what is in the images is tested without them too.
const engine = isFull ? await containerEngine() : null;
const images = engine?.images === 'public' ? 'the image that the Dockerfile builds, the published broker' : "this machine's Node and Mosquitto in images made here, which stand in for the published ones";
/** ms; containers take their time on a machine that has other work. */
const patience = 240_000;

describe.skipIf(engine === null)(`in containers (${images})`, { timeout: patience }, () => {
  let made: Images;
  let containers: Containers;
  beforeAll(async () => {
    if (engine === null) return;
    made = await containerImages(engine);
    containers = containersOf(made);
  }, 900_000);
  afterEach(() => containers.removeAll());
  afterAll(() => engine?.stop());

  it('is healthy beside its broker, and readings make a run', async () => {
    const broker = await containers.broker();
    const service = await containers.service(broker.serviceUrl, { healthy: true });
    const client = await mqtt.connectAsync(broker.carriagesUrl);
    const publish = (kind: string, payload: unknown): Promise<unknown> => client.publishAsync(`weld/hall-a/c1/${kind}`, JSON.stringify(payload), { qos: 1 });
    await publish('assignment', { seam: 'S1', run: 1 });
    const start = Date.UTC(2026, 10, 2, 6);
    for (let tenth = 0; tenth < 120; tenth += 1) {
      const on = tenth < 100;
      await publish('readings', { boot: 'b1', seq: tenth, time: start + tenth * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 600 : 0 });
    }
    await client.publishAsync('weld/hall-a/c1/assignment', '', { qos: 1 });
    await client.endAsync();
    const finished = async (): Promise<boolean> => (await runsOf(service.http, 'hall-a', 'c1')).some(({ state }) => state === 'finished');
    await until('the run to be finished', finished);
    const runs = await runsOf(service.http, 'hall-a', 'c1');
    expect(runs).toHaveLength(1);
    // 600 A · 30 V = 18 kW, for 10 s and at 600 mm/min: 180 kJ over 100 mm are 1.8 kJ/mm (ISO/TR 18491: E = U·I/v).
    expect(runs[0]).toMatchObject({ seam: 'S1', run: 1, arcTime: 10, energy: 180, length: 100, arcEnergy: 1.8 });
  });

  it.skipIf(!findCompose())('is composed by the compose file, stops without loss, and goes on from its volumes', async () => {
    const both = await composed(made);
    try {
      const client = await mqtt.connectAsync(both.carriagesUrl);
      const publish = (seq: number): Promise<unknown> =>
        client.publishAsync('weld/hall-a/c2/readings', JSON.stringify({ boot: 'b1', seq, time: Date.UTC(2026, 10, 2, 6) + seq * 100, current: 600, voltage: 30, travelSpeed: 600 }), { qos: 1 });
      for (let seq = 0; seq < 50; seq += 1) await publish(seq);
      both.compose('stop', 'seamwarden');
      // The broker keeps what comes while the service is away.
      for (let seq = 50; seq < 100; seq += 1) await publish(seq);
      await client.endAsync();
      // Without a container: both begin again from their volumes, the broker with the session and its queue.
      both.compose('down');
      both.compose('up', '--detach', '--wait');
      await until('all readings', async () => (await runsOf(both.http, 'hall-a', 'c2'))[0]?.arcs[0]?.samples === 100, 60);
      await awaitMark(both.carriagesUrl, 'hall-a', 'c2', [{ boot: 'b1', first: 0, seq: 99, missing: [] }], 60);
      const ended = both.compose('ps', '--all', '--format', '{{.Service}} {{.State}} {{.Health}}').trim().split('\n').sort();
      expect(ended).toEqual(['broker running healthy', 'seamwarden running healthy']);
    } finally {
      await both.down();
    }
  });

  it('runs as a user who is not root, and writes into its volume and nowhere else', async () => {
    const { container } = await containers.service(null);
    expect((await container.exec(['id', '-u'])).output.trim()).toBe('1000');
    // The first process is the service itself, so that it gets the signals.
    expect((await container.exec(['cat', '/proc/1/cmdline'])).output).toContain('seamwarden.js');
    for (const place of ['/app/dist', '/app', '/']) expect((await container.exec(['touch', `${place}/written`])).exitCode, place).not.toBe(0);
    const client = await getContainerRuntimeClient();
    const { Config, Mounts } = await client.container.inspect(client.container.getById(container.getId()));
    expect(Object.keys(Config.Volumes)).toEqual(['/data']);
    expect(Mounts.map(({ Type, Destination }) => `${Type} ${Destination}`)).toEqual(['volume /data']);
    expect((await container.exec(['ls', '/data'])).output).toContain('seamwarden.db');
  });

  it.each(['embedded', 'outside'] as const)('loses nothing that was acknowledged when docker stops it (%s broker)', async (kind) => {
    const outcome = await underSeed((seed) => stopScenario(containers, kind, 2, seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it('loses nothing and counts nothing twice when the broker is killed, and carriages send again from the stored mark', async () => {
    const outcome = await underSeed((seed) => brokerKillScenario(containers, seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it('admits nobody at the broker without an account, lets nobody publish for the service, and keeps added accounts over a restart', async () => {
    const { container, carriagesUrl, serviceUrl } = await containers.broker();
    const refused = /Not authorized/;
    const bare = carriagesUrl.replace(/\/\/.*@/, '//');
    const once = { reconnectPeriod: 0 };
    await expect(mqtt.connectAsync(bare, once, false)).rejects.toThrow(refused);
    await expect(mqtt.connectAsync(bare.replace('//', '//carriages:wrong@'), once, false)).rejects.toThrow(refused);
    const added = bare.replace('//', '//c7:own-password@');
    expect((await container.exec(['mosquitto_passwd', '-b', '/mosquitto/data/passwords', 'c7', 'own-password'])).exitCode).toBe(0);
    await stopContainer(container, 60);
    await startAgain(container);
    await until('the broker to take accounts', () => mqtt.connectAsync(serviceUrl, once, false).then((client) => client.endAsync().then(() => true), () => false));
    const service = await mqtt.connectAsync(serviceUrl, once);
    const heard: string[] = [];
    service.on('message', (topic) => heard.push(topic));
    await service.subscribeAsync('weld/+/+/+', { qos: 1 });
    for (const url of [carriagesUrl, added]) {
      const client = await mqtt.connectAsync(url, once, false);
      for (const topic of ['weld/a/c6/readings', 'weld/a/c7/readings', 'weld/a/c7/stored']) await client.publishAsync(topic, '{}', { qos: 1 });
      await client.endAsync();
    }
    await until('three messages', () => heard.length >= 3);
    // Through the shared account for any carriage, through one's own for oneself; the mark comes from the service alone.
    expect(heard).toEqual(['weld/a/c6/readings', 'weld/a/c7/readings', 'weld/a/c7/readings']);
    await service.endAsync();
  });
});
