import { createReadStream } from 'node:fs';
import { request as post } from 'node:http';
import { pino } from 'pino';
import { assignmentPayload } from '../../shared/weld/procedure/assignment-payload.js';
import type { ImportAnswer, ImportRequest, PortFailure } from '../ingest-port.js';
import { DataDirInUse } from '../data-lock.js';
import { startService } from '../main.js';
import { loadSettings } from '../settings.js';
import type { ImportOutcome } from './import-command.js';
import type { PrintedRun } from './print-run.js';

/** Imports through the service that has the data directory; if none has it, through one that runs for as long as it takes. */
export async function performImport(request: ImportRequest, file: string): Promise<ImportOutcome> {
  const settings = loadSettings();
  try {
    const own = { ...settings, mqttUrl: null, mqttHost: '127.0.0.1', mqttPort: 0, httpHost: '127.0.0.1', httpPort: 0 };
    const service = await startService(own, pino({ level: 'warn' }, pino.destination(2)));
    try {
      return await importOver(service.httpUrl, request, file);
    } finally {
      await service.stop();
    }
  } catch (thrown) {
    if (!(thrown instanceof DataDirInUse)) throw thrown;
  }
  const host = settings.httpHost.includes(':') ? `[${settings.httpHost}]` : settings.httpHost;
  return importOver(`http://${host}:${settings.httpPort}`, request, file);
}

async function importOver(httpUrl: string, request: ImportRequest, file: string): Promise<ImportOutcome> {
  const query = new URLSearchParams({ site: request.site, carriage: request.carriage });
  if (request.assignment !== null) query.set('assignment', JSON.stringify(assignmentPayload(request.assignment)));
  if (request.start !== null) query.set('start', new Date(request.start).toISOString());
  if (request.file !== null) query.set('file', request.file);
  if (request.by !== null) query.set('by', request.by);
  const { status, text } = await sendLog(`${httpUrl}/api/imports?${query.toString()}`, file).catch(notAnswered(httpUrl));
  if (status !== 200) return { answer: failureOf(status, text), runs: [] };
  const imported = JSON.parse(text) as ImportAnswer;
  const runs: PrintedRun[] = [];
  for (const id of imported.runs) {
    const run = await fetch(`${httpUrl}/api/runs/${id}`).catch(notAnswered(httpUrl));
    if (run.ok) runs.push((await run.json()) as PrintedRun);
  }
  return { answer: imported, runs };
}

function notAnswered(url: string): (error: unknown) => never {
  return () => {
    throw new Error(`the data directory is in use, and no service answers at ${new URL(url).origin}`);
  };
}

function failureOf(status: number, text: string): PortFailure {
  let problem: { detail?: string; title?: string } = {};
  try {
    problem = JSON.parse(text) as typeof problem;
  } catch {
    // It was not the service that answered.
  }
  // The detail names every field that was wrong.
  const reason = problem.detail ?? problem.title ?? `the service answered ${status}`;
  return { failed: status === 503 ? 'storage' : 'invalid', reason };
}

/**
 * Posts a log to the service, piece by piece. Parts that are not UTF-8 are sent as U+FFFD: names in columns that nobody reads may be written
 * in another encoding. Rejects if the file cannot be read or nobody answers; an answer that arrives before everything is sent is the answer.
 */
function sendLog(url: string, file: string): Promise<{ readonly status: number; readonly text: string }> {
  return new Promise((resolve, reject) => {
    const log = createReadStream(file, { encoding: 'utf8' });
    const posted = post(url, { method: 'POST', headers: { 'content-type': 'text/csv' } });
    let answered = false;
    posted.once('response', (response) => {
      answered = true;
      log.destroy();
      let text = '';
      response.setEncoding('utf8').on('data', (part: string) => (text += part));
      response.once('error', reject).once('end', () => {
        posted.destroy();
        resolve({ status: response.statusCode ?? 0, text });
      });
    });
    posted.on('error', (error) => {
      log.destroy();
      if (!answered) reject(error);
    });
    log.once('error', reject).on('data', (part) => {
      if (!posted.write(part)) log.pause();
    });
    posted.on('drain', () => log.resume());
    log.once('end', () => posted.end());
  });
}
