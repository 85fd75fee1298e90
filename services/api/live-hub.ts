import { randomBytes } from 'node:crypto';
import type { Request, Response } from 'express';
import { z } from 'zod';
import { carriageKey } from '../../shared/api-types/carriage-key.js';
import type { IngestPort, LiveEvent } from '../ingest-port.js';
import type { ApiLimits } from './deps.js';
import { liveReader, type FirstState, type LiveReader, type Numbered } from './live-reader.js';
import { problemError } from './problem-error.js';
import { route, type Route } from './route.js';

export interface LiveHub {
  /** Makes the connection a live feed. Throws a problem where there are too many. */
  readonly connect: (request: Request, response: Response) => void;
  readonly readers: () => number;
  readonly close: () => void;
}

/** Most carriages whose newest event is held for a reader that returns. */
const mostCarriages = 20_000;

/**
 * Sends events to the readers of the live feed (server-sent events, HTML standard section 9.2). For each carriage only
 * its newest state is kept, and of other events the last few, so a returning reader misses neither and memory stays bounded.
 */
export function createLiveHub(port: IngestPort, limits: ApiLimits): LiveHub {
  // Another process counts from the start again, so a number of its time must not be taken for one of ours.
  const epoch = randomBytes(6).toString('base64url');
  const carriages = new Map<string, Numbered>();
  const others: Numbered[] = [];
  const open = new Map<Response, LiveReader>();
  let last = 0;

  const idOf = (number: number): string => `id: ${epoch}.${number}\n`;
  const newest = (key: string): Numbered | undefined => carriages.get(key);
  const unsubscribe = port.subscribe((event) => {
    last += 1;
    const held = { number: last, text: idOf(last) + frame(event) };
    const key = event.event === 'run' || event.event === 'alarm' ? null : keyOf(event.data);
    if (key === null) others.push(held);
    else holdCarriage(key, held);
    if (others.length > limits.liveEvents) others.shift();
    for (const reader of open.values()) {
      if (key === null) reader.other(held);
      else reader.carriage(key);
    }
  });
  const comment = setInterval(() => {
    for (const reader of open.values()) reader.comment();
  }, limits.commentEvery);
  comment.unref();

  function holdCarriage(key: string, held: Numbered): void {
    carriages.delete(key);
    carriages.set(key, held);
    if (carriages.size <= mostCarriages) return;
    const oldest = carriages.keys().next();
    if (oldest.done !== true) carriages.delete(oldest.value);
  }

  /** The number up to which a returning reader has heard everything; null for a new reader. */
  function heardUpTo(lastEventId: string | string[] | undefined): number | null {
    const [from, number] = (typeof lastEventId === 'string' ? lastEventId : '').split('.');
    const known = from === epoch && number !== undefined && /^\d{1,15}$/.test(number) && Number(number) <= last;
    return known ? Number(number) : null;
  }

  function firstState(): FirstState {
    const texts = port.carriages();
    const id = idOf(last);
    // Only the last event has an id, so that a reader cut off before it begins again.
    const states = function* (): Generator<{ key: string | null; text: string }> {
      for (const [at, data] of texts.entries()) yield { key: keyOf(data), text: (at === texts.length - 1 ? id : '') + frame({ event: 'carriage', data }) };
    };
    return { states: states(), carriages: [], others: [] };
  }

  function missedSince(heard: number): FirstState {
    const missed = [...carriages].filter(([, { number }]) => number > heard);
    return { states: null, carriages: missed.map(([key]) => key), others: others.filter(({ number }) => number > heard) };
  }

  return {
    connect(request, response) {
      if (open.size >= limits.liveReaders) throw problemError(503, `There are ${open.size} readers of the live feed already.`, { headers: { 'retry-after': '30' } });
      response.status(200).set({ 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' });
      response.flushHeaders();
      if (request.method === 'HEAD') {
        response.end();
        return;
      }
      response.on('close', () => open.delete(response));
      response.on('error', () => open.delete(response));
      response.write(':\n\n');
      const heard = heardUpTo(request.headers['last-event-id']);
      open.set(response, liveReader(response, limits, heard === null ? firstState() : missedSince(heard), newest));
    },
    readers: () => open.size,
    close() {
      unsubscribe();
      clearInterval(comment);
      for (const reader of open.values()) reader.end();
      open.clear();
    },
  };
}

/** The live feed: first the state of every carriage (or, with `Last-Event-ID`, what was missed), then every change. */
export function liveRoutes(hub: LiveHub): Route[] {
  const facts = route(
    {
      method: 'get', path: '/api/live', group: 'carriages',
      summary: 'Server-sent events: carriage, alarm and run, each with the JSON of its answer',
      answers: { 200: { description: 'A feed that goes on until one side closes it', schema: z.string(), type: 'text/event-stream' } },
      problems: [503],
    },
    () => { throw new Error('the live feed is streamed'); },
  );
  return [{ ...facts, stream: hub.connect }];
}

function frame({ event, data }: LiveEvent): string {
  const lines = data.split(/\r\n|\r|\n/).map((line) => `data: ${line}\n`);
  return `event: ${event}\n${lines.join('')}\n`;
}

function keyOf(data: string): string | null {
  // An event must not stop its sender, whatever it contains.
  try {
    return carriageKey(data);
  } catch {
    return null;
  }
}
