import { z } from 'zod';
import type { LiveHub } from './live-hub.js';
import { nothing } from './query-values.js';
import { route, type Route } from './route.js';

/** The live feed: first the state of every carriage (or, with `Last-Event-ID`, what was missed), then every change. */
export function liveRoutes(hub: LiveHub): Route[] {
  const facts = route(
    {
      method: 'get',
      path: '/api/live',
      group: 'carriages',
      summary: 'Server-sent events: carriage, alarm and run, each with the JSON of its answer',
      params: nothing,
      query: nothing,
      body: null,
      answers: { 200: { description: 'A feed that goes on until one side closes it', schema: z.string(), type: 'text/event-stream' } },
      problems: [503],
    },
    () => {
      throw new Error('the live feed is streamed');
    },
  );
  return [{ ...facts, stream: hub.connect }];
}
