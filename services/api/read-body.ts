import { isUtf8 } from 'node:buffer';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { RequestHandler } from 'express';
import { openBody } from './open-body.js';
import { problemError } from './problem-error.js';
import type { BodyShape } from './route.js';

/** A body that is read piece by piece, and whether its sender has gone. */
export interface Upload {
  readonly pieces: AsyncIterable<Uint8Array>;
  readonly gone: AbortSignal;
}

/** Reads a JSON body into `request.body`; a body that is read piece by piece stays unread, and only its type is checked. */
export function readBody(shape: BodyShape): RequestHandler[] {
  const { type, limit } = shape;
  const readers = type === 'application/json' ? [demandType(/^application\/json$/, type), readJson(limit)] : [demandType(/^text\/[a-z0-9.+-]+$/, type)];
  return shape.optional === true ? readers.map(whereGiven) : readers;
}

function whereGiven(reader: RequestHandler): RequestHandler {
  // The reader's rejection is the answer, so its promise is returned.
  return async (request, response, next) => {
    const { 'transfer-encoding': encoding, 'content-length': length } = request.headers;
    if (encoding !== undefined || Number(length ?? 0) > 0) await reader(request, response, next);
    else next();
  };
}

function demandType(taken: RegExp, named: string): RequestHandler {
  return (request, _response, next) => {
    const [type, ...parameters] = (request.headers['content-type'] ?? '').split(';').map((part) => part.trim().toLowerCase());
    if (type === undefined || !taken.test(type)) {
      next(problemError(415, `content-type: got ${type === undefined || type === '' ? 'none' : type}, expected ${named}.`));
      return;
    }
    const charset = parameters.find((own) => own.startsWith('charset='))?.slice('charset='.length).replaceAll('"', '');
    next(charset === undefined || /^utf-?8$/.test(charset) ? undefined : problemError(415, `content-type: got the character set ${charset}, expected utf-8.`));
  };
}

function readJson(limit: number): RequestHandler {
  return async (request, _response, next) => {
    const pieces: Buffer[] = [];
    for await (const piece of openBody(request, limit)) pieces.push(piece);
    request.body = parsed(Buffer.concat(pieces));
    next();
  };
}

function parsed(bytes: Buffer): unknown {
  // RFC 8259 section 8.1: exchanged JSON is UTF-8; a byte order mark may be ignored.
  if (!isUtf8(bytes)) throw problemError(400, 'The body is not UTF-8.');
  const text = bytes.toString('utf8').replace(/^\uFEFF/, '');
  if (text === '') return {};
  try {
    return JSON.parse(text);
  } catch (error) {
    throw problemError(400, `The body is no JSON: ${error instanceof Error ? error.message : String(error)}.`);
  }
}

/** The body of text as bytes; rejects if it is not UTF-8, since reading it as text would silently put U+FFFD in its place. */
export function openText(request: IncomingMessage, response: ServerResponse, limit: number): Upload {
  const gone = new AbortController();
  response.once('close', () => {
    if (!response.writableFinished) gone.abort();
  });
  return { pieces: demandUtf8(openBody(request, limit)), gone: gone.signal };
}

async function* demandUtf8(pieces: AsyncIterable<Buffer>): AsyncGenerator<Uint8Array, void> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  const check = (piece?: Buffer): void => {
    try {
      decoder.decode(piece, { stream: piece !== undefined });
    } catch {
      throw problemError(400, 'The body is not UTF-8.');
    }
  };
  for await (const piece of pieces) {
    check(piece);
    yield piece;
  }
  check();
}
