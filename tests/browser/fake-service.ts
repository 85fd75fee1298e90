import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { alarmSchema } from '../../shared/api-types/alarm.js';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { carriageSchema } from '../../shared/api-types/carriage.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { enterPreparation } from '../../shared/weld/preparation/enter-preparation.js';
import { traceSchema } from '../../shared/api-types/trace.js';
import type { Trace } from '../../shared/api-types/trace.js';
import type { Refused } from '../../shared/api-types/entries.js';
import type { ServiceFacts } from '../../shared/api-types/service.js';
import { built } from './built.js';
import { countsOf } from './made-carriages.js';

const pages = join(built, 'dashboards');
const types: Readonly<Record<string, string>> = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml' };
/** As the service sends it: a page that would break it breaks here too. */
const policy =
  "default-src 'none';script-src 'self';style-src 'self';img-src 'self' data:;font-src 'self';connect-src 'self';manifest-src 'self';base-uri 'none';form-action 'none';frame-ancestors 'none'";

export interface FakeService {
  /** `http://127.0.0.1:PORT`, from the first start on; stays the same over `stop` and `start`. */
  readonly http: string;
  /** Every write that came, as `METHOD path` with its body. */
  readonly writes: readonly { readonly path: string; readonly body: Readonly<Record<string, unknown>> }[];
  /** Puts carriages in the place of those of the same name, and tells it. They are checked against the schema of the service's answers. */
  readonly tell: (...carriages: readonly Carriage[]) => void;
  /** Tells an alarm of a carriage or of the service. */
  readonly tellAlarm: (alarm: Alarm) => void;
  readonly forget: () => void;
  /** Ends every live feed; `mute` keeps them open and sends nothing more on them, as when the far end has vanished. */
  readonly dropFeeds: () => void;
  readonly mute: (quiet: boolean) => void;
  /** What the lists of procedures and of runs answer, and the shifts of the plant. */
  readonly know: (lists: { readonly procedures?: readonly object[]; readonly runs?: readonly object[]; readonly shifts?: ServiceFacts['shifts'] }) => void;
  /** The trace of every run; empty until it is given. */
  readonly trace: (trace: Trace) => void;
  /** Lists these messages as refused. */
  readonly refuse: (...entries: readonly Refused[]) => void;
  /** Answers writes with that problem until it is null. */
  readonly refuseWrites: (reason: string | null) => void;
  readonly stop: () => Promise<void>;
  readonly start: () => Promise<void>;
}

/**
 * Serves the built pages with made answers, so that every state of a page can be had at once. Carriages that weld go on sending. `check` false leaves out the schemas, for many events;
 * `live` false sends nothing by itself. It answers once it is started.
 */
export function fakeService({ check = true, live = true }: { readonly check?: boolean; readonly live?: boolean } = {}): FakeService {
  const carriages = new Map<string, Carriage>();
  const serviceAlarms = new Map<string, Alarm>();
  const feeds = new Set<ServerResponse>();
  const fresh = new Set<string>();
  const writes: { path: string; body: Record<string, unknown> }[] = [];
  let procedures: readonly object[] = [];
  let runs: readonly object[] = [];
  let shifts: ServiceFacts['shifts'] = [];
  const facts: ServiceFacts = { version: '0.1.0', timeZone: 'Europe/Berlin', shifts: [], startedAt: new Date().toISOString(), mqtt: { embedded: true, host: '127.0.0.1', port: 1883 }, http: { host: '127.0.0.1', port: 0 } };
  let trace: Trace | null = null;
  let refused: readonly Refused[] = [];
  let muted = false;
  let refusal: string | null = null;
  let server: Server | null = null;
  let port = 0;

  const send = (event: string, data: unknown): void => {
    if (muted) return;
    const text = frame(event, data);
    for (const feed of feeds) feed.write(text);
  };
  const tell = (carriage: Carriage): void => {
    if (check) carriageSchema.parse(carriage);
    const key = `${carriage.site}/${carriage.carriage}`;
    carriages.set(key, carriage);
    if (carriage.lastSeen !== null && Date.now() - Date.parse(carriage.lastSeen) < 500) fresh.add(key);
    else fresh.delete(key);
    send('carriage', carriage);
  };
  const alarmOf = (id: string): Alarm | undefined => [...carriages.values()].flatMap(({ alarms }) => alarms).concat([...serviceAlarms.values()]).find((own) => own.id === id);
  const tellAlarm = (alarm: Alarm): void => {
    if (check) alarmSchema.parse(alarm);
    if (alarm.site === null) serviceAlarms.set(alarm.id, alarm);
    else {
      const key = `${alarm.site}/${alarm.carriage ?? ''}`;
      const held = carriages.get(key);
      const others = held?.alarms.filter(({ id }) => id !== alarm.id) ?? [];
      const alarms = alarm.state === 'normal' ? others : [alarm, ...others];
      if (held !== undefined) tell({ ...held, alarms, alarmCounts: countsOf(alarms, held.run ?? '') });
    }
    send('alarm', alarm);
  };

  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const { pathname, searchParams } = new URL(request.url ?? '/', 'http://localhost');
    if (!pathname.startsWith('/api/')) {
      servePage(pathname, response);
      return;
    }
    if (pathname === '/api/live') {
      response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
      response.write(`:\n\n${[...carriages.values()].map((own) => frame('carriage', own)).join('')}`);
      feeds.add(response);
      response.on('close', () => feeds.delete(response));
      return;
    }
    if (request.method === 'POST' || request.method === 'PUT' || request.method === 'DELETE') {
      const body = request.method === 'DELETE' ? {} : await bodyOf(request);
      writes.push({ path: pathname, body });
      if (refusal !== null) {
        json(response, 503, { type: 'about:blank', title: 'Service Unavailable', status: 503, detail: refusal, instance: pathname });
        return;
      }
      if (pathname.endsWith('/assignment') || pathname.endsWith('/preparation') || pathname.endsWith('/materials')) {
        answerJob(request.method, pathname, body, response);
        return;
      }
      if (request.method === 'DELETE' && pathname.startsWith('/api/carriages/')) {
        const [, , , site = '', carriage = ''] = pathname.split('/');
        carriages.delete(`${site}/${carriage}`);
        send('carriageGone', { site, carriage });
        response.writeHead(204).end();
        return;
      }
      if (pathname === '/api/alarms/acknowledge') {
        const ids = Array.isArray(body['ids']) ? body['ids'].map(String) : [];
        const found = ids.map(alarmOf).filter((own) => own !== undefined);
        for (const own of found) tellAlarm(acknowledged(own, body));
        json(response, 200, { acknowledged: found.length });
        return;
      }
      const [, , , id = '', act] = pathname.split('/');
      const before = alarmOf(decodeURIComponent(id));
      if (before === undefined) {
        json(response, 404, { type: 'about:blank', title: 'Not Found', status: 404, detail: 'No such alarm.', instance: pathname });
        return;
      }
      const after = act === 'unshelve' ? { ...before, state: 'unacknowledged' as const, shelvedUntil: null } : act === 'shelve' ? shelved(before, body) : acknowledged(before, body);
      tellAlarm(after);
      json(response, 200, after);
      return;
    }
    if (pathname === '/api/health') json(response, 200, { status: 'ok', writtenAt: new Date().toISOString() });
    else if (pathname === '/api/service') json(response, 200, { ...facts, shifts, http: { host: '127.0.0.1', port } });
    else if (pathname === '/api/refused') json(response, 200, { items: refused, next: null, total: refused.length });
    else if (pathname === '/api/carriages') json(response, 200, { items: [...carriages.values()], next: null });
    else if (pathname === '/api/alarms') {
      const all = [...serviceAlarms.values(), ...[...carriages.values()].flatMap(({ alarms }) => alarms)];
      const found = all.filter(({ state }) => state === (searchParams.get('state') ?? state));
      json(response, 200, { items: found, next: null, total: found.length });
    } else if (pathname === '/api/runs') json(response, 200, { items: runs.filter((run) => isAskedFor(run, searchParams)), next: null });
    else if (trace !== null && /^\/api\/runs\/[^/]+\/trace$/.test(pathname)) json(response, 200, trace);
    else if (pathname === '/api/procedures') json(response, 200, { items: procedures, next: null });
    else json(response, 404, { type: 'about:blank', title: 'Not Found', status: 404, detail: 'There is none.', instance: pathname });
  };

  /** As the service does: a job applies to the carriage, and entries are merged into the current one. */
  const answerJob = (method: string, pathname: string, body: Readonly<Record<string, unknown>>, response: ServerResponse): void => {
    const [, , what, first = '', second = ''] = pathname.split('/');
    const given: Record<string, unknown> = { ...body };
    delete given['by'];
    delete given['reason'];
    delete given['time'];
    const by = typeof body['by'] === 'string' ? body['by'] : 'local';
    const held = carriages.get(`${first}/${second}`);
    if (pathname.endsWith('/materials')) {
      json(response, 200, held?.assignment ?? {});
      return;
    }
    if (what === 'runs') {
      json(response, 200, { id: first, assignment: given });
      return;
    }
    if (held === undefined || (pathname.endsWith('/preparation') && held.assignment === null)) {
      json(response, 409, { type: 'about:blank', title: 'Conflict', status: 409, detail: 'No assignment is in force.', instance: pathname });
      return;
    }
    const assignment = method === 'DELETE' ? null : pathname.endsWith('/preparation') && held.assignment !== null ? entered(held.assignment, given, by) : (given as unknown as Carriage['assignment']);
    tell({ ...held, assignment, ...(method === 'DELETE' ? { run: null } : {}) });
    if (method === 'DELETE') response.writeHead(204).end();
    else json(response, 200, assignment);
  };

  // A carriage that welds sends all the time; one that was made old stays so.
  const keepFresh = (): void => {
    for (const [key, own] of carriages) {
      if (own.welding && fresh.has(key)) tell({ ...own, lastSeen: new Date().toISOString() });
    }
  };
  let timer: ReturnType<typeof setInterval> | null = null;
  const start = async (): Promise<void> => {
    if (!existsSync(join(pages, 'index.html'))) throw new Error('the pages are not built; run "npm run build" first');
    const own = createServer((request, response) => void answer(request, response));
    await new Promise<void>((resolve) => own.listen(port, '127.0.0.1', resolve));
    ({ port } = own.address() as AddressInfo);
    server = own;
    if (live) timer = setInterval(keepFresh, 400);
  };
  const stop = async (): Promise<void> => {
    if (timer !== null) clearInterval(timer);
    const own = server;
    server = null;
    if (own === null) return;
    const closed = new Promise((resolve) => own.close(resolve));
    own.closeAllConnections();
    await closed;
  };
  return {
    get http() { return `http://127.0.0.1:${port}`; },
    writes,
    tell: (...given) => { given.forEach(tell); },
    tellAlarm,
    know: (lists) => {
      procedures = lists.procedures ?? procedures;
      runs = lists.runs ?? runs;
      shifts = lists.shifts ?? shifts;
    },
    forget: () => { trace = null; carriages.clear(); serviceAlarms.clear(); procedures = []; runs = []; shifts = []; },
    dropFeeds: () => { for (const feed of feeds) feed.destroy(); },
    mute: (quiet) => { muted = quiet; },
    trace: (own) => { trace = traceSchema.parse(own); },
    refuse: (...entries) => { refused = [...entries].reverse(); },
    refuseWrites: (reason) => { refusal = reason; },
    stop,
    start,
  };
}

/** What is over and acknowledged is normal. */
function acknowledged(alarm: Alarm, { by, note }: Readonly<Record<string, unknown>>): Alarm {
  const state = alarm.state === 'returned' ? 'normal' : 'acknowledged';
  return {
    ...alarm,
    state: alarm.acknowledgedAt === null ? state : alarm.state,
    acknowledgedAt: alarm.acknowledgedAt ?? new Date().toISOString(),
    acknowledgedBy: alarm.acknowledgedBy ?? String(by),
    note: typeof note === 'string' ? note : alarm.note,
  };
}

function entered(assignment: AssignmentAnswer, given: Readonly<Record<string, unknown>>, by: string): AssignmentAnswer {
  const change: Record<string, unknown> = { ...given };
  delete change['seam'];
  delete change['run'];
  return enterPreparation(assignment, change, by, new Date().toISOString());
}

function shelved(alarm: Alarm, { until, reason, by }: Readonly<Record<string, unknown>>): Alarm {
  return { ...alarm, state: 'shelved', shelvedUntil: new Date(Number(until)).toISOString(), shelvedReason: String(reason), shelvedBy: String(by) };
}

/** As the service filters runs by their hall and their beginning. */
function isAskedFor(run: { readonly site?: string; readonly startedAt?: string }, asked: URLSearchParams): boolean {
  const [site, from] = [asked.get('site'), asked.get('from')];
  return (site === null || run.site === undefined || run.site === site) && (from === null || run.startedAt === undefined || run.startedAt >= from);
}

function servePage(pathname: string, response: ServerResponse): void {
  const file = join(pages, normalize(pathname === '/' ? '/index.html' : pathname));
  if (!file.startsWith(pages) || !existsSync(file)) {
    response.writeHead(404).end();
    return;
  }
  response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream', 'content-security-policy': policy });
  response.end(readFileSync(file));
}

function frame(event: string, data: unknown): string {
  return `event: ${event}\ndata: ${JSON.stringify(data)}\n\n`;
}

function json(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { 'content-type': 'application/json', date: new Date().toUTCString() }).end(JSON.stringify(body));
}

async function bodyOf(request: IncomingMessage): Promise<Record<string, unknown>> {
  let text = '';
  for await (const chunk of request) text += String(chunk);
  return JSON.parse(text) as Record<string, unknown>;
}
