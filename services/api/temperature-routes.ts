import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import { z } from 'zod';
import { measurementAnswer } from '../../shared/answers/temperature-answers.js';
import { listSchema, nameSchema } from '../../shared/api-types/common.js';
import { freeText } from '../../shared/api-types/free-text.js';
import { temperatureRequestSchema, temperatureSchema } from '../../shared/api-types/temperature.js';
import { readStored } from '../../shared/records/damage.js';
import { writeCursor } from '../../shared/records/page.js';
import { findMeasurement, listMeasurements, readMeasurement, type MeasuredAt } from '../../shared/records/temperatures.js';
import type { Database } from '../../shared/records/tables.js';
import { readDeviceTime } from '../../shared/weld/decode/device-time.js';
import type { RunMarks } from '../../shared/weld/run/run-figures.js';
import type { IngestPort, MeasuredWhere } from '../ingest-port.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { pageQuery, pageRequest, textQuery } from './query-values.js';
import { jsonBody, listAnswer, optionalBody, route, type Answer, type Route } from './route.js';
import { runOrProblem } from './run-routes.js';

const id = z.string().min(1).max(200);
const ofRun = z.strictObject({ id });
const ofCarriage = z.strictObject({ site: nameSchema, carriage: nameSchema });
const oneOf = { temperature: id };

const entering = { body: jsonBody(temperatureRequestSchema), answers: { 201: { description: 'The temperature as it was entered', schema: temperatureSchema } }, problems: [404, 409] } as const;
const listing = { query: z.strictObject(pageQuery), answers: { 200: { description: 'A page of temperatures', schema: listSchema(temperatureSchema) } }, problems: [404], unchecked: true } as const;
const reading = { answers: { 200: { description: 'The temperature', schema: temperatureSchema } }, problems: [404] } as const;
const withdrawal = { by: freeText(100).optional().meta({ description: 'Who withdraws it; local if left out' }) };
/** A client that can send no body with a `DELETE` puts the same into the query. */
const withdrawing = {
  query: z.strictObject({ ...withdrawal, reason: textQuery }),
  body: optionalBody(z.strictObject({ ...withdrawal, reason: freeText(500).optional() }).meta({ id: 'TemperatureWithdrawal' })),
  answers: { 204: { description: 'It counts no more', schema: null } }, problems: [404, 409],
} as const;

/** Temperatures of the plate before the arc: entered at a run, or at a carriage for the run to come. */
export function temperatureRoutes(port: IngestPort, records: Kysely<Database>, log: Logger): Route[] {
  const run = '/api/runs/{id}/temperatures';
  const carriage = '/api/carriages/{site}/{carriage}/temperatures';

  async function enter(where: MeasuredWhere, body: z.output<typeof temperatureRequestSchema>): Promise<Answer> {
    const { kind, value, at, seam, place, seamPosition = null, distance = null, instrument = null, by = 'local', reason = null } = body;
    const time = at === undefined || at === null ? null : readDeviceTime(at);
    const done = granted(await port.enterTemperature(where, { kind, value, at: time, seam, place: place ?? 'ahead', seamPosition, distance, instrument, by, reason }));
    log.info({ ...where, temperature: done.measured.id, kind, value, actor: 'local', by, reason }, 'temperature entered');
    return { status: 201, body: measurementAnswer(done.measured, done) };
  }

  async function withdraw(where: MeasuredWhere, temperature: string, query: z.output<typeof withdrawing.query>, body: z.output<typeof withdrawing.body.schema>): Promise<Answer> {
    const { by = 'local', reason = null } = { ...query, ...body };
    granted(await port.withdrawTemperature(where, temperature, { by, reason }));
    log.info({ ...where, temperature, actor: 'local', by, reason }, 'temperature withdrawn');
    return { status: 204 };
  }

  return [
    route({ method: 'post', path: run, group: 'runs', summary: 'Enter a temperature of the plate that was measured for the run; a finished run is evaluated anew', params: ofRun, ...entering }, ({ params, body }) => enter({ run: params.id }, body)),
    route(
      { method: 'get', path: run, group: 'runs', summary: 'Temperatures that were entered for the run, at it or at its carriage, the one entered last first', params: ofRun, ...listing },
      async ({ params, query }) => list(records, await placeOfRun(records, params.id), query),
    ),
    route({ method: 'get', path: `${run}/{temperature}`, group: 'runs', summary: 'One temperature of the run', params: ofRun.extend(oneOf), ...reading }, async ({ params }) => one(records, await placeOfRun(records, params.id), params.temperature)),
    route(
      { method: 'delete', path: `${run}/{temperature}`, group: 'runs', summary: 'Withdraw a wrong temperature, which stays in the record as withdrawn; a finished run is evaluated anew', params: ofRun.extend(oneOf), ...withdrawing },
      ({ params, query, body }) => withdraw({ run: params.id }, params.temperature, query, body),
    ),
    route({ method: 'post', path: carriage, group: 'carriages', summary: 'Enter a temperature of the plate that was measured for the run to come', params: ofCarriage, ...entering }, ({ params, body }) => enter(params, body)),
    route(
      { method: 'get', path: carriage, group: 'carriages', summary: 'Temperatures that were entered at the carriage, the one entered last first', params: ofCarriage, ...listing },
      async ({ params, query }) => list(records, await placeOfCarriage(records, params), query),
    ),
    route({ method: 'get', path: `${carriage}/{temperature}`, group: 'carriages', summary: 'One temperature that was entered at the carriage', params: ofCarriage.extend(oneOf), ...reading }, async ({ params }) => one(records, await placeOfCarriage(records, params), params.temperature)),
    route(
      { method: 'delete', path: `${carriage}/{temperature}`, group: 'carriages', summary: 'Withdraw a wrong temperature, which stays in the record as withdrawn', params: ofCarriage.extend(oneOf), ...withdrawing },
      ({ params: { temperature, ...where }, query, body }) => withdraw(where, temperature, query, body),
    ),
  ];
}

/** Where temperatures are listed; `at` is null where nobody has heard of the carriage yet. */
interface Place {
  readonly site: string;
  readonly carriage: string;
  readonly seam: string | null;
  readonly at: MeasuredAt | null;
}

/** Throws a problem if there is no such run. */
async function placeOfRun(records: Kysely<Database>, run: string): Promise<Place> {
  const { site, carriage, seam, stream_id, started, marks } = await runOrProblem(records, run);
  const { before = null } = readStored(`what is kept of run ${run}`, marks, (own) => own as Partial<RunMarks>);
  return { site, carriage, seam, at: { id: run, stream_id, started, before } };
}

async function placeOfCarriage(records: Kysely<Database>, { site, carriage }: { readonly site: string; readonly carriage: string }): Promise<Place> {
  const stream = await records.selectFrom('streams').select('id').where('site', '=', site).where('carriage', '=', carriage).where('stream', '=', '').executeTakeFirst();
  return { site, carriage, seam: null, at: stream === undefined ? null : { stream_id: stream.id } };
}

async function list(records: Kysely<Database>, place: Place, query: z.output<typeof listing.query>): Promise<Answer> {
  const request = pageRequest('temperatures', query);
  if (place.at === null) return listAnswer([], null);
  const page = await listMeasurements(records, place.at, place.seam, request);
  return listAnswer(page.rows.map((row) => JSON.stringify(measurementAnswer(readMeasurement(row), place))), page.next === null ? null : writeCursor('temperatures', page.next));
}

async function one(records: Kysely<Database>, place: Place, temperature: string): Promise<Answer> {
  const row = place.at === null ? undefined : await findMeasurement(records, place.at, temperature);
  if (row === undefined) throw problemError(404, 'There is no temperature of this id here.');
  return { status: 200, body: measurementAnswer(readMeasurement(row), place) };
}
