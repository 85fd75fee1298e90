import { randomBytes } from 'node:crypto';
import type { Request, Response } from 'express';
import { z } from 'zod';
import type { IngestPort, LiveEvent } from '../ingest-port.js';
import type { ApiLimits } from './deps.js';
import { problemError } from './problem-error.js';

export interface LiveHub {
  /** Makes the connection a live feed. Throws a problem where there are too many. */
  readonly connect: (request: Request, response: Response) => void;
  readonly readers: () => number;
  readonly close: () => void;
}

interface Numbered {
  readonly number: number;
  readonly text: string;
}

/** Most carriages whose newest event is held for a reader that returns. */
const mostCarriages = 10_000;
const named = z.object({ site: z.string(), carriage: z.string() });

/**
 * Hands events to the readers of the live feed (server-sent events, HTML standard section 9.2). Of each carriage only
 * its newest state is held, of other events the last few, so a returning reader misses neither and memory stays bounded.
 */
export function createLiveHub(port: IngestPort, limits: ApiLimits): LiveHub {
  // Another process counts anew: a number of its own time must not be taken for one of ours.
  const epoch = randomBytes(6).toString('base64url');
  const carriages = new Map<string, Numbered>();
  const others: Numbered[] = [];
  const open = new Set<Response>();
  let last = 0;

  const write = (response: Response, text: string): void => {
    response.write(text);
    if (response.writableLength > limits.liveBacklog) response.destroy();
  };
  const unsubscribe = port.subscribe((event) => {
    last += 1;
    const held = { number: last, text: frame(`${epoch}.${last}`, event) };
    hold(event, held);
    for (const response of open) write(response, held.text);
  });
  const comment = setInterval(() => {
    for (const response of open) write(response, ':\n\n');
  }, limits.commentEvery);
  comment.unref();

  function hold(event: LiveEvent, held: Numbered): void {
    const key = event.event === 'carriage' ? carriageOf(event.data) : null;
    if (key === null) {
      others.push(held);
      if (others.length > limits.liveEvents) others.shift();
      return;
    }
    carriages.delete(key);
    carriages.set(key, held);
    if (carriages.size <= mostCarriages) return;
    const oldest = carriages.keys().next();
    if (oldest.done !== true) carriages.delete(oldest.value);
  }

  function missedSince(number: number): string {
    const missed = [...others, ...carriages.values()].filter((held) => held.number > number);
    return missed.sort((a, b) => a.number - b.number).map((held) => held.text).join('');
  }

  function firstText(lastEventId: string | undefined): string {
    const [from, number] = (lastEventId ?? '').split('.');
    const known = from === epoch && number !== undefined && /^\d{1,15}$/.test(number) && Number(number) <= last;
    if (known) return missedSince(Number(number));
    return port.carriages().map((data) => frame(`${epoch}.${last}`, { event: 'carriage', data })).join('');
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
      open.add(response);
      const given = request.headers['last-event-id'];
      write(response, `:\n\n${firstText(typeof given === 'string' ? given : undefined)}`);
    },
    readers: () => open.size,
    close() {
      unsubscribe();
      clearInterval(comment);
      for (const response of open) response.end();
      open.clear();
    },
  };
}

function frame(id: string, { event, data }: LiveEvent): string {
  const lines = data.split(/\r\n|\r|\n/).map((line) => `data: ${line}\n`);
  return `id: ${id}\nevent: ${event}\n${lines.join('')}\n`;
}

function carriageOf(data: string): string | null {
  // Whatever an event holds, it may not stop the one who tells of it.
  try {
    const { site, carriage } = named.parse(JSON.parse(data));
    return `${site}/${carriage}`;
  } catch {
    return null;
  }
}
