import { isUtf8 } from 'node:buffer';
import type { IncomingMessage } from 'node:http';
import express from 'express';
import type { RequestHandler } from 'express';
import { problemError } from './problem-error.js';
import type { BodyShape } from './route.js';

/** Reads a body of the kind that the route takes into `request.body`. */
export function readBody(shape: BodyShape): RequestHandler[] {
  const readers = readersOf(shape);
  return shape.optional === true ? readers.map(whereGiven) : readers;
}

function whereGiven(reader: RequestHandler): RequestHandler {
  return (request, response, next) => {
    const { 'transfer-encoding': encoding, 'content-length': length } = request.headers;
    if (encoding !== undefined || Number(length ?? 0) > 0) void reader(request, response, next);
    else next();
  };
}

function readersOf(shape: BodyShape): RequestHandler[] {
  return shape.type === 'application/json'
    ? [demandType(/^application\/json$/, shape.type), express.json({ limit: shape.limit, strict: false, type: () => true, verify: demandUtf8 })]
    : [demandType(/^text\/[a-z0-9.+-]+$/, shape.type), ...textParser(shape.limit)];
}

function demandType(taken: RegExp, named: string): RequestHandler {
  return (request, _response, next) => {
    const type = request.headers['content-type']?.split(';', 1)[0]?.trim().toLowerCase();
    next(type !== undefined && taken.test(type) ? undefined : problemError(415, `content-type: got ${type ?? 'none'}, takes ${named}.`));
  };
}

// Read as bytes, since reading as text would put U+FFFD in place of what is no UTF-8 without a word.
function textParser(limit: number): RequestHandler[] {
  const decoder = new TextDecoder('utf-8');
  const decode: RequestHandler = (request, _response, next) => {
    const bytes: unknown = request.body;
    request.body = bytes instanceof Uint8Array ? decoder.decode(bytes) : '';
    next();
  };
  return [express.raw({ limit, type: () => true, verify: demandUtf8 }), decode];
}

// RFC 8259 section 8.1: JSON that is exchanged is UTF-8.
function demandUtf8(_request: IncomingMessage, _response: unknown, bytes: Buffer): void {
  if (!isUtf8(bytes)) throw problemError(400, 'The body is not UTF-8.');
}
