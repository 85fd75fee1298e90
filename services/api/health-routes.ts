import { z } from 'zod';
import { healthSchema } from '../../shared/api-types/health.js';
import type { IngestPort } from '../ingest-port.js';
import { openMetricsType, type Metrics } from './metrics.js';
import { problemError } from './problem-error.js';
import { nothing } from './query-values.js';
import { route, type Route } from './route.js';

/** Whether the service can store, and what it counts. */
export function healthRoutes(port: IngestPort, metrics: Metrics): Route[] {
  return [
    route(
      {
        method: 'get',
        path: '/api/health',
        group: 'service',
        summary: 'Whether data can be stored',
        params: nothing,
        query: nothing,
        body: null,
        answers: { 200: { description: 'The last write probe succeeded', schema: healthSchema } },
        problems: [503],
      },
      () => {
        const { ok, reason, writtenAt, damage } = port.health();
        if (!ok) throw problemError(503, [reason ?? 'Data cannot be stored.', ...(damage === null ? [] : [damage])].join('; '));
        return { status: 200, body: { status: 'ok', writtenAt: writtenAt === null ? null : new Date(writtenAt).toISOString(), ...(damage === null ? {} : { damage }) } };
      },
    ),
    route(
      {
        method: 'get',
        path: '/metrics',
        group: 'service',
        summary: 'Counters and gauges as OpenMetrics text',
        params: nothing,
        query: nothing,
        body: null,
        answers: { 200: { description: 'OpenMetrics text', schema: z.string(), type: openMetricsType } },
        problems: [],
      },
      async () => ({ status: 200, text: await metrics.read() }),
    ),
  ];
}
