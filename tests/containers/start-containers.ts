import { execFileSync } from 'node:child_process';
import { createWriteStream, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { GenericContainer, getContainerRuntimeClient, Wait, type StartedTestContainer } from 'testcontainers';
import { freePort } from '../faults/service-process.js';
import { root } from './image-names.js';

export const servicePassword = 'made-for-the-tests';
export const carriagesPassword = 'made.for_the~tests';

/** Containers and volumes of one test file, which are removed in the end. */
export interface Containers {
  /** The broker as the compose file starts it, on a free port, which it keeps when it is started again. */
  broker(): Promise<Broker>;
  /** The service; `mqttUrl` null: with the broker that comes along. */
  service(mqttUrl: string | null, more?: { readonly healthy?: boolean }): Promise<Service>;
  removeAll(): Promise<void>;
}

export interface Broker {
  readonly container: StartedTestContainer;
  readonly serviceUrl: string;
  readonly carriagesUrl: string;
}

export interface Service {
  readonly container: StartedTestContainer;
  readonly http: string;
  /** Of the broker that comes along, or the outside one with the carriages' account left out. */
  readonly mqtt: string;
}

export function containersOf(images: { readonly broker: string; readonly service: string }): Containers {
  const mark = `seamwarden-tests-${process.pid}`;
  const volumes: string[] = [];
  let made = 0;
  const newVolume = (): string => {
    const name = `${mark}-${(made += 1)}`;
    volumes.push(name);
    return name;
  };

  /** Starts one; where it does not come about, the reason ends with what the container said. */
  async function start(container: GenericContainer): Promise<StartedTestContainer> {
    let said = '';
    const listen = (stream: Readable): void => {
      stream.on('data', (chunk: Buffer | string) => (said += chunk.toString()));
    };
    try {
      return await container.withLabels({ [mark]: 'yes' }).withDroppedCapabilities('ALL').withStartupTimeout(180_000).withLogConsumer(listen).start();
    } catch (error) {
      throw new Error(`${error instanceof Error ? error.message : String(error)}; the container said: ${said.slice(-2_000)}`, { cause: error });
    }
  }

  return {
    async broker() {
      const port = await freePort();
      const container = await start(new GenericContainer(images.broker)
        .withUser('1883:1883')
        .withEntrypoint(['/bin/sh', '/mosquitto/config/start-broker.sh'])
        .withEnvironment({ BROKER_SERVICE_PASSWORD: servicePassword, BROKER_CARRIAGES_PASSWORD: carriagesPassword })
        .withBindMounts([{ source: join(root, 'services/broker'), target: '/mosquitto/config', mode: 'ro' }, { source: newVolume(), target: '/mosquitto/data' }])
        .withExposedPorts({ container: 1883, host: port })
        .withWaitStrategy(Wait.forLogMessage(/mosquitto version \S+ running/)));
      const url = (account: string): string => `mqtt://${account}@127.0.0.1:${port}`;
      return { container, serviceUrl: url(`seamwarden:${servicePassword}`), carriagesUrl: url(`carriages:${carriagesPassword}`) };
    },
    async service(mqttUrl, { healthy = false } = {}) {
      const [httpPort, mqttPort] = [await freePort(), await freePort()];
      const container = await start(new GenericContainer(images.service)
        .withNetworkMode('host')
        .withEnvironment({ SEAMWARDEN_HTTP_PORT: String(httpPort), SEAMWARDEN_MQTT_PORT: String(mqttPort), SEAMWARDEN_MQTT_URL: mqttUrl ?? '', SEAMWARDEN_TIME_ZONE: 'UTC' })
        .withBindMounts([{ source: newVolume(), target: '/data' }])
        .withWaitStrategy(healthy ? Wait.forHealthCheck() : Wait.forLogMessage(/^listening http=/)));
      return { container, http: `http://127.0.0.1:${httpPort}`, mqtt: `mqtt://127.0.0.1:${mqttPort}` };
    },
    async removeAll() {
      const { dockerode } = (await getContainerRuntimeClient()).container;
      for (const { Id } of await dockerode.listContainers({ all: true, filters: { label: [mark] } })) await dockerode.getContainer(Id).remove({ force: true, v: true });
      // A container that never came about has made no volume.
      for (const name of volumes) await dockerode.getVolume(name).remove({ force: true });
      volumes.splice(0);
    },
  };
}

/** `docker stop`: SIGTERM, and SIGKILL after `grace` s. Answers the exit code; 137 would be that of the SIGKILL. */
export async function stopContainer(container: StartedTestContainer, grace = 20): Promise<number> {
  const own = (await getContainerRuntimeClient()).container.getById(container.getId());
  await own.stop({ t: grace });
  return (await own.inspect()).State.ExitCode;
}

/** `docker kill`: SIGKILL, or the signal that is named. */
export async function signalContainer(container: StartedTestContainer, signal = 'SIGKILL'): Promise<void> {
  const own = (await getContainerRuntimeClient()).container.getById(container.getId());
  await own.kill({ signal });
  if (signal === 'SIGKILL') await own.wait();
}

export async function startAgain(container: StartedTestContainer): Promise<void> {
  await (await getContainerRuntimeClient()).container.getById(container.getId()).start();
}

/** Copies the service's data directory out of its container, running or not, and hands the copy to `look`. */
export async function withDataOf<T>(container: StartedTestContainer, look: (dataDir: string) => T): Promise<T> {
  const client = await getContainerRuntimeClient();
  const folder = mkdtempSync(join(tmpdir(), 'container-data-'));
  try {
    const archive = await client.container.fetchArchive(client.container.getById(container.getId()), '/data');
    const file = join(folder, 'data.tar');
    await pipeline(archive, createWriteStream(file));
    execFileSync('tar', ['-xf', file, '-C', folder]);
    return look(join(folder, 'data'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What a container has said since it was made. */
export async function logOf(container: StartedTestContainer): Promise<string> {
  let said = '';
  for await (const chunk of await container.logs()) said += String(chunk);
  return said;
}
