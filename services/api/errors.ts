import type { IncomingMessage, ServerResponse } from 'node:http';
import type { ErrorRequestHandler, RequestHandler } from 'express';
import type { Logger } from 'pino';
import { damageMessage } from '../../shared/records/damage.js';
import type { PortFailure } from '../ingest-port.js';
import { isProblemError, problemError, problemOf, type ProblemError } from './problem-error.js';

export const problemType = 'application/problem+json';

/** The one place where errors become answers. An unforeseen error is not disclosed to the caller. */
export function errorExit(log: Logger): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    const problem = foreseen(error) ?? problemError(500, 'The service could not answer this; its log says why.');
    if (problem.problemStatus === 500) log.error({ err: error, method: request.method, path: pathOf(request.originalUrl) }, 'a request failed');
    if (response.headersSent) {
      // An answer that has begun cannot become another one; a cut connection at least shows that it is incomplete.
      next(error);
      return;
    }
    response.status(problem.problemStatus).set(problem.headers).set('cache-control', 'no-store').type(problemType);
    const text = JSON.stringify(problemOf(problem, pathOf(request.originalUrl)));
    if (isBodyArriving(request)) answerAndClose(request, response, text);
    else response.send(text);
  };
}

export const unknownPath: RequestHandler = (request, _response, next) => {
  next(problemError(404, `There is nothing at ${pathOf(request.originalUrl)}.`));
};

/** What ingest answers. Throws a problem if it could not do what was asked. */
export function granted<Done extends object>(answer: PortFailure | Done): Done {
  if (!('failed' in answer)) return answer;
  const statuses = { notFound: 404, conflict: 409, invalid: 400, storage: 503, busy: 503 } as const;
  throw problemError(statuses[answer.failed], answer.reason, {
    ...(answer.failed === 'busy' ? { headers: { 'retry-after': '10' } } : {}),
    ...(answer.held === undefined ? {} : { more: answer.held }),
  });
}

function foreseen(error: unknown): ProblemError | undefined {
  if (isProblemError(error)) return error;
  const damage = damageMessage(error);
  if (damage !== null) return problemError(500, damage);
  if (!(error instanceof Error)) return undefined;
  if (error instanceof URIError) return problemError(400, 'The path is not encoded as a URL demands: a % must be followed by two hexadecimal digits of UTF-8.');
  const status = 'status' in error ? error.status : undefined;
  return status === 404 || status === 403 || status === 400 ? problemError(status, 'There is no such page.') : undefined;
}

/** The requested path, without its query. */
function pathOf(url: string): string {
  return url.split('?', 1)[0] ?? url;
}

/** A body up to this size may be read to its end and discarded, so that the connection can be used again, bytes. */
const smallBody = 1_048_576;
/** How long the rest of a body is read and discarded, ms: closing over it would reset the connection, and the answer might be lost. */
const drainFor = 1_000;

/** Whether a request is answered while a long body, or one of unknown length, is still arriving. */
function isBodyArriving(request: IncomingMessage): boolean {
  if (request.complete) return false;
  return request.headers['transfer-encoding'] !== undefined || Number(request.headers['content-length'] ?? 0) > smallBody;
}

/** Sends an answer at once, and closes the connection instead of reading the body to its end. */
function answerAndClose(request: IncomingMessage, response: ServerResponse, text: string): void {
  response.setHeader('connection', 'close');
  response.setHeader('content-length', Buffer.byteLength(text));
  response.write(text);
  const end = (): void => {
    clearTimeout(timer);
    response.end();
  };
  const timer = setTimeout(end, drainFor);
  request.once('end', end).once('close', end).resume();
}
