import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import { z } from 'zod';
import { sensorsAnswer } from '../../shared/answers/run-sensors.js';
import { nameSchema } from '../../shared/api-types/common.js';
import { sensorsRequestSchema, sensorsSchema } from '../../shared/api-types/sensors.js';
import { readCarriageSensors } from '../../shared/records/sensors.js';
import type { Database } from '../../shared/records/tables.js';
import type { IngestPort } from '../ingest-port.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { jsonBody, route, type Route } from './route.js';

const place = z.strictObject({ site: nameSchema, carriage: nameSchema });
const group = 'carriages';

/** Where the values of a carriage come from. */
export function sensorRoutes(port: IngestPort, records: Kysely<Database>, log: Logger): Route[] {
  return [
    route(
      {
        method: 'put', path: '/api/carriages/{site}/{carriage}/sensors', group,
        summary: 'Declare the sensors of a carriage, in place of what was declared before; runs that were lit before keep theirs',
        params: place, body: jsonBody(sensorsRequestSchema),
        answers: { 200: { description: 'The declaration as it was accepted', schema: sensorsSchema } },
        problems: [409],
      },
      async ({ params, body: { by = 'local', ...sensors } }) => {
        const { revision, at } = granted(await port.declareSensors(params.site, params.carriage, sensors, by));
        log.info({ ...params, revision, actor: 'local', by }, 'sensors declared');
        return { status: 200, body: sensorsAnswer({ revision, body: sensors, at, by }) };
      },
    ),
    route(
      {
        method: 'get', path: '/api/carriages/{site}/{carriage}/sensors', group,
        summary: 'The newest declaration of the sensors of a carriage',
        params: place,
        answers: { 200: { description: 'The declaration', schema: sensorsSchema } },
        problems: [404],
      },
      async ({ params: { site, carriage } }) => {
        const declared = await readCarriageSensors(records, site, carriage);
        const newest = declared.at(-1);
        if (newest === undefined) throw problemError(404, `No sensors were declared for ${site}/${carriage}.`);
        return { status: 200, body: sensorsAnswer(newest) };
      },
    ),
  ];
}
