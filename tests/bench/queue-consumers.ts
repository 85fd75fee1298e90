import { join } from 'node:path';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { until } from '../faults/ask-service.js';
import { identityOf, keptItems } from '../faults/kept-items.js';
import { startProcess } from '../faults/service-process.js';
import type { Mosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { assignedService } from './assigned-service.js';
import { startChild } from './bench-child.js';
import { site } from './bench-messages.js';

/** Carriages whose messages lie in a queue. */
export const queueCarriages = 10;

/** Something that takes readings from an outside broker in a session that the broker keeps. */
export interface Consumer {
  readonly name: string;
  /** Its name at the broker. */
  readonly clientId: string;
  /** Makes what it stores into in that folder, and leaves once the broker has its session. */
  prepare(folder: string, broker: Mosquitto): Promise<void>;
  start(folder: string, broker: Mosquitto): Running;
  /** Identities of the readings in its store. */
  stored(folder: string): ReadonlySet<string>;
}

export interface Running {
  readonly pid: number;
  /** Messages that it has finished with so far: stored for good, or seen if it has no store. */
  done(): Promise<number>;
  kill(): Promise<void>;
}

/** Rows of a table that only grows, seen from outside as soon as they are committed. */
export function rowCounter(file: string, query: string): { readonly done: () => Promise<number>; readonly close: () => void } {
  const db = openSqlite(file, { readOnly: true });
  const newest = db.prepare(query).pluck();
  return { done: () => Promise.resolve(Number(newest.get() ?? 0)), close: () => { db.close(); } };
}

const subscribed = (broker: Mosquitto): Promise<void> => until('the consumer to subscribe', () => broker.log().includes('weld/+/'), 60, () => broker.log());

export async function prepareSession(broker: Mosquitto, running: Running): Promise<void> {
  try {
    await subscribed(broker);
  } finally {
    await running.kill();
  }
}

/** The service; its carriages each weld a run by a procedure with windows. */
export const service: Consumer = {
  name: 'the service',
  clientId: 'seamwarden',
  prepare: async (folder, { url }) => {
    const { process: own } = await assignedService(folder, queueCarriages, { SEAMWARDEN_MQTT_URL: url });
    await own.kill('SIGTERM');
  },
  start: (folder, { url }) => {
    // A row holds the messages of one commit and has the number of the last; none goes before its run is long over.
    const rows = rowCounter(join(folder, 'seamwarden.db'), 'SELECT max(id) FROM kept');
    const own = startProcess({ dataDir: folder, env: { SEAMWARDEN_MQTT_URL: url } });
    return {
      pid: own.pid,
      done: rows.done,
      kill: async () => {
        await own.kill('SIGKILL');
        rows.close();
      },
    };
  },
  stored: (folder) => new Set(keptItems(folder, site).keys()),
};

/** A subscriber that stores nothing. */
export const bareSubscriber: Consumer = {
  name: 'a bare subscriber',
  clientId: 'bare',
  prepare: (folder, broker) => prepareSession(broker, bareSubscriber.start(folder, broker)),
  start: (_folder, { url }) => {
    const child = startChild('bare-subscriber-process.ts', { url, clientId: 'bare' });
    const state = { ready: false };
    child.hear().then(() => { state.ready = true; }, () => undefined);
    return {
      pid: child.pid,
      done: async () => {
        if (!state.ready) return 0;
        child.say('count');
        return (await child.hear()) as number;
      },
      kill: () => child.kill(),
    };
  },
  stored: () => new Set<string>(),
};

/** A reading of the bench by what tells it apart. */
export const identityIn = (carriage: string, seq: number): string => identityOf(site, carriage, { boot: 'b1', seq });
