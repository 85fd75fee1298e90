import { z } from 'zod';
import { healthSchema } from '../../shared/api-types/health.js';
import { serviceSchema, type ServiceFacts } from '../../shared/api-types/service.js';
import type { IngestPort } from '../ingest-port.js';
import { openMetricsType, type Metrics } from './metrics.js';
import { problemError } from './problem-error.js';
import { route, type Route } from './route.js';

/** Whether the service can store, what it counts, what it is, which zone its plant is in, and where carriages connect. */
export function serviceRoutes(port: IngestPort, metrics: Metrics, facts: () => Omit<ServiceFacts, 'version'>, version: string): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/health', group: 'service',
        summary: 'Whether data can be stored',
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
        method: 'get', path: '/metrics', group: 'service',
        summary: 'Counters and gauges as OpenMetrics text',
        answers: { 200: { description: 'OpenMetrics text', schema: z.string(), type: openMetricsType } },
      },
      async () => ({ status: 200, text: await metrics.read() }),
    ),
    route(
      {
        method: 'get', path: '/api/service', group: 'service',
        summary: 'Version, time zone of the plant, and the addresses of broker and pages',
        answers: { 200: { description: 'The service', schema: serviceSchema } },
      },
      () => ({ status: 200, body: { version, ...facts() } }),
    ),
  ];
}
