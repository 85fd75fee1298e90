import type { Express, RequestHandler, Response } from 'express';
import type { Logger } from 'pino';
import { checkPart, readQuery } from './check-request.js';
import { problemError } from './problem-error.js';
import { openText, readBody } from './read-body.js';
import type { Answer, Route } from './route.js';

/** Adds the routes of the table to the app; every other method of their paths is answered with 405 and the allowed methods. */
export function mountRoutes(app: Express, routes: readonly Route[], log: Logger): void {
  for (const path of new Set(routes.map((own) => own.path))) {
    const here = routes.filter((own) => own.path === path);
    const place = app.route(path.replaceAll(/\{(\w+)\}/g, ':$1'));
    for (const own of here) place[own.method](...(own.body === null ? [] : readBody(own.body)), handlerOf(own, log));
    place.all(notAllowed(here));
  }
}

function handlerOf(own: Route, log: Logger): RequestHandler {
  return async (request, response) => {
    const query = checkPart(own.query, readQuery(request.originalUrl));
    const params = checkPart(own.params, { ...request.params });
    const upload = own.body?.type === 'text/csv' ? openText(request, response, own.body.limit) : null;
    const body: unknown = own.body === null || upload !== null ? undefined : checkPart(own.body.schema, request.body);
    if (own.stream !== undefined) {
      own.stream(request, response);
      return;
    }
    const answer = await own.answer({ params, query, body, upload });
    checkAnswer(own, answer, log);
    send(response, own, answer);
  };
}

/** An answer must match its announced schema; checking costs little compared with making the answer. */
function checkAnswer(own: Route, answer: Answer, log: Logger): void {
  const shape = own.answers[answer.status];
  if (shape === undefined) throw new Error(`${own.method} ${own.path}: the status ${answer.status} is not announced`);
  if (own.unchecked === true || answer.text !== undefined || shape.schema === null) return;
  const checked = shape.schema.safeParse(answer.body);
  if (checked.success) return;
  log.error({ method: own.method, path: own.path, issues: checked.error.issues }, 'an answer does not fit its schema');
  throw problemError(500, 'The service made an answer that is not the one it announces; its log says where.');
}

function send(response: Response, own: Route, answer: Answer): void {
  response.status(answer.status).set('cache-control', 'no-store').set(answer.headers ?? {});
  const shape = own.answers[answer.status];
  if (shape?.schema === null) {
    response.end();
    return;
  }
  response.type(answer.type ?? shape?.type ?? 'application/json').send(answer.text ?? JSON.stringify(answer.body));
}

function notAllowed(here: readonly Route[]): RequestHandler {
  const allow = here.flatMap((own) => (own.method === 'get' ? ['GET', 'HEAD'] : [own.method.toUpperCase()])).join(', ');
  return (request, _response, next) => {
    next(problemError(405, `${request.method} is not done here, only ${allow}.`, { headers: { allow } }));
  };
}
