import { OpenAPIRegistry, OpenApiGeneratorV31, type ResponseConfig, type RouteConfig } from '@asteasolutions/zod-to-openapi';
import { z } from 'zod';
import { problemSchema } from '../../shared/api-types/problem.js';
import { problemType } from './errors.js';
import type { ProblemStatus } from './problem-error.js';
import { route, type Route } from './route.js';

/** The last line of every description that people read. */
const caution =
  'Seamwarden records and warns. It is not a safety device and does not replace the emergency stop, the responsible welding coordinator, the governing code or local rules.';

const everyRoute: readonly ProblemStatus[] = [400, 403, 500];
const everyWrite: readonly ProblemStatus[] = [429, 503];
const everyBody: readonly ProblemStatus[] = [413, 415];

const meanings: Readonly<Record<ProblemStatus, string>> = {
  400: 'Something in the request is wrong; `errors` names it',
  403: 'Asked under another host name, or written from a page of another origin',
  404: 'Not found',
  405: 'The method is not allowed here',
  409: 'It conflicts with what is stored',
  413: 'The body is too large',
  415: 'The media type of the body is not supported',
  422: 'It cannot be answered as asked; `errors` says what there is to choose from',
  429: 'Too many writes; try again later',
  500: 'The service failed; its log says why',
  503: 'Not possible now; the reason is given',
};

/** The problem statuses that a route can answer. */
function problemsOf(own: Route): readonly ProblemStatus[] {
  const all = [...everyRoute, ...own.problems, ...(own.method === 'get' ? [] : everyWrite), ...(own.body === null ? [] : everyBody)];
  return [...new Set(all)].sort((a, b) => a - b);
}

/** The description of these routes and of itself. */
export function withDescription(routes: readonly Route[], version: string): Route[] {
  let text: string | null = null;
  const all: Route[] = [
    ...routes,
    route(
      {
        method: 'get', path: '/api/openapi.json', group: 'service',
        summary: 'This description, OpenAPI 3.1',
        answers: { 200: { description: 'OpenAPI 3.1', schema: z.looseObject({ openapi: z.string() }) } },
      },
      () => {
        text ??= JSON.stringify(describeRoutes(all, version));
        return { status: 200, text };
      },
    ),
  ];
  return all;
}

/** The OpenAPI 3.1 description of the routes, made from the schemas that check them. */
function describeRoutes(routes: readonly Route[], version: string): ReturnType<OpenApiGeneratorV31['generateDocument']> {
  const registry = new OpenAPIRegistry();
  for (const own of routes) registry.registerPath(configOf(own));
  return new OpenApiGeneratorV31(registry.definitions).generateDocument({
    openapi: '3.1.0',
    info: { title: 'Seamwarden', version, description: `Data logging for submerged-arc welding carriages. ${caution}` },
    servers: [{ url: '/' }],
  });
}

const csvSchema = z.string().meta({ description: 'RFC 4180, with a header; what is not known is empty' });

function configOf(own: Route): RouteConfig {
  const responses: Record<number, ResponseConfig> = {};
  for (const [status, { description, schema, type, csv }] of Object.entries(own.answers)) {
    responses[Number(status)] = schema === null ? { description } : { description, content: { [type ?? 'application/json']: { schema }, ...(csv === true ? { 'text/csv': { schema: csvSchema } } : {}) } };
  }
  for (const status of problemsOf(own)) {
    responses[status] = { description: meanings[status], content: { [problemType]: { schema: problemSchema } } };
  }
  return {
    method: own.method, path: own.path, tags: [own.group], summary: own.summary,
    request: {
      params: own.params, query: own.query,
      ...(own.body === null ? {} : { body: { required: own.body.optional !== true, content: { [own.body.type]: { schema: own.body.schema } } } }),
    },
    responses,
  };
}
