import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { startChild } from './bench-child.js';
import { peerFlow, peerSettings, peerTable } from './peer-flow.js';
import type { FlowEngine } from './peer-install.js';
import { identityIn, prepareSession, rowCounter, type Consumer, type Running } from './queue-consumers.js';

const fileOf = (folder: string): string => join(folder, 'peer.db');

function peerOf(name: string, launch: (folder: string, brokerPort: number) => Omit<Running, 'done'>): Consumer {
  const start = (folder: string, brokerPort: number): Running => {
    const rows = rowCounter(fileOf(folder), 'SELECT max(rowid) FROM readings');
    const running = launch(folder, brokerPort);
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
    start: (folder, { port }) => start(folder, port),
    prepare: async (folder, broker) => {
      const db = openSqlite(fileOf(folder));
      db.pragma('journal_mode = WAL');
      db.exec(peerTable);
      db.close();
      await prepareSession(broker, start(folder, broker.port));
    },
    stored: (folder) => {
      const db = openSqlite(fileOf(folder), { readOnly: true });
      try {
        const rows = db.prepare<[], { carriage: string; seq: number }>('SELECT carriage, seq FROM readings').all();
        return new Set(rows.map(({ carriage, seq }) => identityIn(carriage, seq)));
      } finally {
        db.close();
      }
    },
  };
}

/** A flow in a general-purpose flow engine. */
export function flowPeer({ program, version }: FlowEngine): Consumer {
  return peerOf(`a flow (Node-RED ${version} and its SQLite node)`, (folder, brokerPort) => {
    const [flow, settings] = [join(folder, 'flow.json'), join(folder, 'settings.cjs')];
    writeFileSync(flow, JSON.stringify(peerFlow(brokerPort, fileOf(folder))));
    writeFileSync(settings, peerSettings());
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
export const scriptPeer = peerOf('a script (MQTT.js, SQLite)', (folder, brokerPort) =>
  startChild('plain-peer-process.ts', { port: brokerPort, file: fileOf(folder) }));
