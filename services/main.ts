import { accessSync, constants, existsSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Logger } from 'pino';
import { openingError } from '../shared/records/damage.js';
import { migrate } from '../shared/records/migrate.js';
import { openReader, openWriter, recordsOf } from '../shared/records/open-database.js';
import { sqliteCode } from '../shared/sqlite/sqlite-error.js';
import { sqliteTraceReader, sqliteTracesSchema } from '../shared/traces/sqlite-traces.js';
import { createApp } from './api/app.js';
import { removeSpooled } from './csv/spool-log.js';
import { lockDataDir } from './data-lock.js';
import { lookForDamage } from './ingest/thread/look-for-damage.js';
import { startIngest } from './ingest/thread/worker-port.js';
import { makeFolder } from './make-folder.js';
import { wrongSetting } from './setting-values.js';
import type { Settings } from './settings.js';

/** ms that open requests get to finish when the service stops. */
const closeWithin = 2_000;
/** An import may bring its assignment in the query: 8,192 characters, each of them up to 9 bytes as a URL encodes them. */
const longestHeader = 131_072;

export interface RunningService {
  /** `http://HOST:PORT` of the pages and the API. */
  readonly httpUrl: string;
  /** `mqtt://HOST:PORT` that carriages connect to. */
  readonly mqttUrl: string;
  stop(): Promise<void>;
}

/** Puts the parts together, from the sink backwards: lock, store, ingest, HTTP. Stops from the source forwards. */
export async function startService(settings: Settings, log: Logger): Promise<RunningService> {
  makeDataDir(settings.dataDir);
  const databaseFile = join(settings.dataDir, 'seamwarden.db');
  const lock = await lockDataDir(settings.dataDir, databaseFile);
  try {
    prepareStore(databaseFile);
    await removeSpooled(settings.dataDir);
    const tell = (level: 'info' | 'warn' | 'error', text: string): void => { log[level](text); };
    const ingest = await startIngest(settings, databaseFile, tell);
    const stopLooking = lookForDamage(databaseFile, tell, ingest.tellDamage);
    const reader = openReader(databaseFile);
    const stopped = new AbortController();
    const startedAt = new Date().toISOString();
    const app = createApp({
      port: ingest.port,
      records: recordsOf(reader),
      traces: sqliteTraceReader(reader),
      weld: settings.weld,
      log,
      pagesDir: pagesFolder(),
      service: () => ({ timeZone: settings.timeZone, shifts: [...settings.shifts], startedAt, mqtt: { embedded: settings.mqttUrl === null, ...placeOf(ingest.mqttUrl) }, http: placeOf(urlOf(server)) }),
      stopped: stopped.signal,
    });
    const server = createServer({ maxHeaderSize: longestHeader }, app);
    const stop = async (): Promise<void> => {
      stopped.abort();
      await stopLooking();
      await ingest.stop();
      await close(server);
      reader.close();
      lock.release();
    };
    try {
      await listen(server, settings.httpHost, settings.httpPort);
    } catch (error) {
      await stop();
      throw error;
    }
    return { httpUrl: urlOf(server), mqttUrl: ingest.mqttUrl, stop };
  } catch (error) {
    lock.release();
    // Anything that SQLite refuses at the start concerns the file.
    throw sqliteCode(error) === null ? error : openingError(databaseFile, error);
  }
}

function makeDataDir(dataDir: string): void {
  try {
    makeFolder(resolve(dataDir));
    accessSync(dataDir, constants.R_OK | constants.X_OK);
  } catch (error) {
    throw wrongSetting('SEAMWARDEN_DATA_DIR', dataDir, `the path of a folder that this user may write in (${error instanceof Error ? error.message : String(error)})`);
  }
}

/** Brings the store to the version of this program. */
function prepareStore(databaseFile: string): void {
  try {
    const writer = openWriter(databaseFile);
    migrate(writer, [sqliteTracesSchema]);
    writer.close();
  } catch (thrown) {
    throw openingError(databaseFile, thrown);
  }
}

/** The built pages lie beside the built services. */
function pagesFolder(): string | null {
  const folder = fileURLToPath(new URL('../dashboards', import.meta.url));
  return existsSync(join(folder, 'index.html')) ? folder : null;
}

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      reject(new Error(error.code === 'EADDRINUSE' ? `SEAMWARDEN_HTTP_PORT: port ${port} on ${host} is in use` : error.message));
    });
    server.listen(port, host, resolve);
  });
}

function urlOf(server: Server): string {
  const { address, family, port } = server.address() as AddressInfo;
  return `http://${family === 'IPv6' ? `[${address}]` : address}:${port}`;
}

/** Host and port of an address that names both; square brackets belong to the URL, not to the IPv6 address. */
function placeOf(url: string): { readonly host: string; readonly port: number } {
  const { hostname, port } = new URL(url);
  return { host: hostname.replace(/^\[(.*)\]$/, '$1'), port: Number(port) };
}

function close(server: Server): Promise<void> {
  return new Promise((resolve) => {
    const force = setTimeout(() => { server.closeAllConnections(); }, closeWithin);
    server.close(() => {
      clearTimeout(force);
      resolve();
    });
    server.closeIdleConnections();
  });
}
