import { pino } from 'pino';
import { assignmentPayload } from '../../shared/weld/assignment-payload.js';
import type { ImportAnswer, ImportRequest, PortFailure } from '../ingest-port.js';
import { DataDirInUse } from '../data-lock.js';
import { startService } from '../main.js';
import { loadSettings } from '../settings.js';
import type { ImportOutcome } from './import-command.js';
import type { PrintedRun } from './print-run.js';

/** Imports through the service that has the data directory; where none has it, through one of its own, for as long as it takes. */
export async function performImport(request: ImportRequest): Promise<ImportOutcome> {
  const settings = loadSettings();
  try {
    const own = { ...settings, mqttUrl: null, mqttHost: '127.0.0.1', mqttPort: 0, httpHost: '127.0.0.1', httpPort: 0 };
    const service = await startService(own, pino({ level: 'warn' }, pino.destination(2)));
    try {
      return await importOver(service.httpUrl, request);
    } finally {
      await service.stop();
    }
  } catch (thrown) {
    if (!(thrown instanceof DataDirInUse)) throw thrown;
  }
  const host = settings.httpHost.includes(':') ? `[${settings.httpHost}]` : settings.httpHost;
  return importOver(`http://${host}:${settings.httpPort}`, request);
}

async function importOver(httpUrl: string, request: ImportRequest): Promise<ImportOutcome> {
  const query = new URLSearchParams({ site: request.site, carriage: request.carriage });
  if (request.assignment !== null) query.set('assignment', JSON.stringify(assignmentPayload(request.assignment)));
  if (request.start !== null) query.set('start', new Date(request.start).toISOString());
  if (request.file !== null) query.set('file', request.file);
  if (request.by !== null) query.set('by', request.by);
  const answer = await ask(`${httpUrl}/api/imports?${query.toString()}`, { method: 'POST', headers: { 'content-type': 'text/csv' }, body: request.csv });
  if (!answer.ok) return { answer: await failureOf(answer), runs: [] };
  const imported = (await answer.json()) as ImportAnswer;
  const runs: PrintedRun[] = [];
  for (const id of imported.runs) {
    const run = await ask(`${httpUrl}/api/runs/${id}`, {});
    if (run.ok) runs.push((await run.json()) as PrintedRun);
  }
  return { answer: imported, runs };
}

async function ask(url: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(url, init);
  } catch {
    throw new Error(`the data directory is in use, and no service answers at ${new URL(url).origin}`);
  }
}

async function failureOf(answer: Response): Promise<PortFailure> {
  // The detail names every field that was wrong.
  const problem = (await answer.json().catch(() => ({}))) as { detail?: string; title?: string };
  const reason = problem.detail ?? problem.title ?? `the service answered ${answer.status}`;
  return { failed: answer.status === 503 ? 'storage' : 'invalid', reason };
}
