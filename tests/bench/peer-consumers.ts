import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { until } from '../faults/ask-service.js';
import { identityOf, keptItems } from '../faults/kept-items.js';
import { freePort, startProcess } from '../faults/service-process.js';
import type { Mosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { assignedService, storedItems } from './assigned-service.js';
import { startChild } from './bench-child.js';
import { site } from './bench-messages.js';
import { outsideCarriages } from './outside.js';
import { peerFlow, peerSettings, peerTable } from './peer-flow.js';
import type { FlowEngine } from './peer-install.js';

/** Something that takes readings from an outside broker and stores them, in a folder of its own. */
export interface Consumer {
  readonly name: string;
  /** Its name at the broker. */
  readonly clientId: string;
  /** Makes what it stores into, and leaves once the broker has a session for it. */
  prepare(folder: string, broker: Mosquitto): Promise<void>;
  start(folder: string, brokerPort: number): Promise<Running>;
  /** Identities of the readings in its store. */
  stored(folder: string): ReadonlySet<string>;
}

export interface Running {
  readonly pid: number;
  /** Readings in its store so far. */
  done(): Promise<number>;
  kill(): Promise<void>;
}

const fileOf = (folder: string): string => join(folder, 'peer.db');

/** Readings in the table so far: rows are only ever added. */
function counter(folder: string): { readonly done: () => Promise<number>; readonly close: () => void } {
  const db = new BetterSqlite3(fileOf(folder), { readonly: true });
  const newest = db.prepare<[], { count: number | null }>('SELECT max(rowid) AS count FROM readings');
  return { done: () => Promise.resolve(newest.get()?.count ?? 0), close: () => { db.close(); } };
}

function peerOf(name: string, launch: (folder: string, brokerPort: number) => Promise<Omit<Running, 'done'>>): Consumer {
  const start = async (folder: string, brokerPort: number): Promise<Running> => {
    const rows = counter(folder);
    const running = await launch(folder, brokerPort);
    return {
      pid: running.pid,
      done: rows.done,
      kill: async () => {
        await running.kill();
        rows.close();
      },
    };
  };
  return {
    name,
    clientId: 'peer',
    start,
    prepare: async (folder, broker) => {
      const db = new BetterSqlite3(fileOf(folder));
      db.pragma('journal_mode = WAL');
      db.exec(peerTable);
      db.close();
      const running = await start(folder, broker.port);
      await until('the peer to subscribe', () => broker.log().includes('weld/+/+/readings'), 60, () => broker.log());
      await running.kill();
    },
    stored: (folder) => {
      const db = new BetterSqlite3(fileOf(folder), { readonly: true });
      try {
        const rows = db.prepare<[], { carriage: string; seq: number }>('SELECT carriage, seq FROM readings').all();
        return new Set(rows.map(({ carriage, seq }) => identityOf(site, carriage, { boot: 'b1', seq })));
      } finally {
        db.close();
      }
    },
  };
}

/** A flow in a general-purpose flow engine. */
export function flowPeer({ program, version }: FlowEngine): Consumer {
  return peerOf(`a flow (Node-RED ${version} and its SQLite node)`, async (folder, brokerPort) => {
    const [flow, settings] = [join(folder, 'flow.json'), join(folder, 'settings.cjs')];
    writeFileSync(flow, JSON.stringify(peerFlow(brokerPort, fileOf(folder))));
    writeFileSync(settings, peerSettings(await freePort()));
    const child = spawn(process.execPath, [program, '-u', folder, '-s', settings, flow], { stdio: ['ignore', 'ignore', 'inherit'], cwd: folder });
    const ended = once(child, 'exit');
    return {
      pid: child.pid ?? -1,
      kill: async () => {
        child.kill('SIGKILL');
        await ended;
      },
    };
  });
}

/** A script of general-purpose libraries. */
export const scriptPeer = peerOf('a script (MQTT.js, better-sqlite3)', async (folder, brokerPort) => {
  const child = startChild('plain-peer-process.ts', { port: brokerPort, file: fileOf(folder) });
  await child.hear();
  return child;
});

export const service: Consumer = {
  name: 'the service',
  clientId: 'seamwarden',
  prepare: async (folder, { url }) => {
    const { process: own } = await assignedService(folder, outsideCarriages, { SEAMWARDEN_MQTT_URL: url });
    await own.kill('SIGTERM');
  },
  start: async (folder, brokerPort) => {
    const own = startProcess({ dataDir: folder, env: { SEAMWARDEN_MQTT_URL: `mqtt://127.0.0.1:${brokerPort}` } });
    const addresses = await own.listening;
    return { pid: own.pid, done: () => storedItems(addresses), kill: () => own.kill('SIGKILL') };
  },
  stored: (folder) => new Set(keptItems(folder, site).keys()),
};
