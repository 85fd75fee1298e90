import { serviceSchema, type ServiceFacts } from '../../shared/api-types/service.js';
import { nothing } from './query-values.js';
import { route, type Route } from './route.js';

/** What the service is, which zone its plant is in, and where carriages connect. */
export function serviceRoutes(facts: () => Omit<ServiceFacts, 'version'>, version: string): Route[] {
  return [
    route(
      {
        method: 'get',
        path: '/api/service',
        group: 'service',
        summary: 'Version, time zone of the plant, and the addresses of broker and pages',
        params: nothing,
        query: nothing,
        body: null,
        answers: { 200: { description: 'The service', schema: serviceSchema } },
        problems: [],
      },
      () => ({ status: 200, body: { version, ...facts() } }),
    ),
  ];
}
