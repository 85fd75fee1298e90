import type { ErrorRequestHandler, RequestHandler } from 'express';
import type { Logger } from 'pino';
import { damageMessage } from '../../shared/records/damage.js';
import type { PortFailure } from '../ingest-port.js';
import { answerAndClose, isBodyArriving } from './close-early.js';
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

export function portProblem(failure: PortFailure): ProblemError {
  const statuses = { notFound: 404, conflict: 409, invalid: 400, storage: 503, busy: 503 } as const;
  return problemError(statuses[failure.failed], failure.reason, {
    ...(failure.failed === 'busy' ? { headers: { 'retry-after': '10' } } : {}),
    ...(failure.held === undefined ? {} : { more: failure.held }),
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
export function pathOf(url: string): string {
  return url.split('?', 1)[0] ?? url;
}
