import { basename, dirname } from 'node:path';
import compression from 'compression';
import express, { type Express, type RequestHandler } from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import { alarmRoutes } from './alarm-routes.js';
import { capabilityRoutes } from './capability-routes.js';
import { carriageRoutes } from './carriage-routes.js';
import { defaultLimits, type ApiDeps } from './deps.js';
import { entryRoutes } from './entry-routes.js';
import { errorExit, unknownPath } from './errors.js';
import { figureRoutes } from './figure-routes.js';
import { isRead, loopbackOnly, readablePath, sameOriginWrites } from './guards.js';
import { importRoutes } from './import-routes.js';
import { createLiveHub, liveRoutes, type LiveHub } from './live-hub.js';
import { createMetrics } from './metrics.js';
import { mountRoutes } from './mount-routes.js';
import { withDescription } from './open-api.js';
import { preparationRoutes } from './preparation-routes.js';
import { problemError } from './problem-error.js';
import { procedureRoutes } from './procedure-routes.js';
import type { Route } from './route.js';
import { answeredRuns } from '../../shared/answers/answered-runs.js';
import { runRoutes } from './run-routes.js';
import { sensorRoutes } from './sensor-routes.js';
import { serviceRoutes } from './service-routes.js';
import { temperatureRoutes } from './temperature-routes.js';
import { traceRoutes } from './trace-routes.js';

const apiVersion = '0.1.0';

/** Builds the API and the pages over what it is given; it does not listen. */
export function createApp(deps: ApiDeps): Express {
  const limits = { ...defaultLimits, ...deps.limits };
  const hub = createLiveHub(deps.port, limits);
  deps.stopped?.addEventListener('abort', hub.close, { once: true });
  const app = express();
  app.disable('x-powered-by');
  app.set('etag', false);
  // Queries are read and checked by the routes themselves.
  app.set('query parser', false);
  app.set('case sensitive routing', true);
  app.set('strict routing', true);
  // The live feed is excluded, as its events must not wait for a full block.
  app.use(compression({ filter: (request, response) => !String(response.getHeader('content-type') ?? '').startsWith('text/event-stream') && compression.filter(request, response) }));
  app.use(headers(), loopbackOnly, readablePath, sameOriginWrites, writesBounded(limits.writesPerMinute));
  mountRoutes(app, routeTable(deps, hub), deps.log);
  if (deps.pagesDir !== null) app.use(pages(deps.pagesDir));
  app.use(unknownPath, errorExit(deps.log));
  return app;
}

/** Every route, declared once: what is mounted is what is described. */
function routeTable(deps: ApiDeps, hub: LiveHub): Route[] {
  const { port, records, traces, weld, log } = deps;
  // Read when it is needed, as not all facts about the service are known before it listens.
  const zone = (): string => deps.service().timeZone;
  const runs = answeredRuns(records, traces, weld);
  return withDescription([
    ...serviceRoutes(port, createMetrics(port, records, hub.readers), deps.service, apiVersion),
    ...carriageRoutes(port, log),
    ...sensorRoutes(port, records, log),
    ...preparationRoutes(port, log),
    ...liveRoutes(hub),
    ...runRoutes(port, records, runs, log),
    ...traceRoutes(records, runs, traces, zone),
    ...figureRoutes(records, runs),
    ...alarmRoutes(port, records, log),
    ...temperatureRoutes(port, records, log),
    ...entryRoutes(records),
    ...procedureRoutes(port, records),
    ...capabilityRoutes(records, runs),
    ...importRoutes(port),
  ], apiVersion);
}

/**
 * The built pages. Files that the build names by their content are cached for good; everything else is requested again, so
 * that a new version shows at the next visit.
 */
function pages(folder: string): RequestHandler {
  return express.static(folder, {
    extensions: ['html'],
    redirect: false,
    setHeaders(response, file) {
      const hashed = basename(dirname(file)) === 'assets' && /-[\w-]{8,}\.\w+$/.test(file);
      response.setHeader('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
}

function headers(): ReturnType<typeof helmet> {
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        manifestSrc: ["'self'"],
        baseUri: ["'none'"],
        formAction: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    // Loopback is plain HTTP, so promising TLS (HSTS) would lock the pages out.
    strictTransportSecurity: false,
    referrerPolicy: { policy: 'no-referrer' },
  });
}

function writesBounded(perMinute: number): ReturnType<typeof rateLimit> {
  return rateLimit({
    windowMs: 60_000,
    limit: perMinute,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    skip: (request) => isRead(request.method),
    handler: (_request, _response, next) => {
      next(problemError(429, `At most ${perMinute} writes a minute are accepted.`, { headers: { 'retry-after': '60' } }));
    },
  });
}
