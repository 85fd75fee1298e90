import { z } from 'zod';
import { describeRoutes } from './open-api.js';
import { nothing } from './query-values.js';
import { route, type Route } from './route.js';

/** The description of these routes and of itself. */
export function withDescription(routes: readonly Route[], version: string): Route[] {
  let text: string | null = null;
  const all: Route[] = [
    ...routes,
    route(
      {
        method: 'get',
        path: '/api/openapi.json',
        group: 'service',
        summary: 'This description, OpenAPI 3.1',
        params: nothing,
        query: nothing,
        body: null,
        answers: { 200: { description: 'OpenAPI 3.1', schema: z.looseObject({ openapi: z.string() }) } },
        problems: [],
      },
      () => {
        text ??= JSON.stringify(describeRoutes(all, version));
        return { status: 200, text };
      },
    ),
  ];
  return all;
}
