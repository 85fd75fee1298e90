import type { Kysely } from 'kysely';
import type { Logger } from 'pino';
import { z } from 'zod';
import { acknowledgeManySchema, acknowledgeSchema, alarmPriorities, alarmSchema, alarmStates, shelveSchema, unshelveSchema } from '../../shared/api-types/alarm.js';
import { listSchema } from '../../shared/api-types/common.js';
import { findAlarm, listAlarms, type AlarmFilter } from '../../shared/records/alarms.js';
import { shownRecords } from '../../shared/records/record-sum.js';
import { writeCursor } from '../../shared/records/page.js';
import type { Database } from '../../shared/records/tables.js';
import { readDeviceTime } from '../../shared/weld/decode/device-time.js';
import type { IngestPort } from '../ingest-port.js';
import { granted } from './errors.js';
import { problemError } from './problem-error.js';
import { booleanQuery, nameQuery, pageQuery, pageRequest, textQuery, timeOf, timeQuery } from './query-values.js';
import { jsonBody, listAnswer, route, type Answer, type Route } from './route.js';

const group = 'alarms';
const params = z.strictObject({ id: z.string().min(1).max(200) });
/** An alarm is not shelved for longer than a day; common practice, no source. */
const shelvedAtMost = 86_400_000;

const alarmQuery = z.strictObject({
  ...pageQuery,
  state: z.enum(alarmStates).optional(),
  site: nameQuery,
  carriage: nameQuery,
  run: textQuery.meta({ description: 'The id of a run' }),
  active: booleanQuery.meta({ description: 'true: alarms that have not cleared; false: alarms that have' }),
  priority: z.enum(alarmPriorities).optional(),
  seam: textQuery.meta({ description: 'The whole name of the seam' }),
  from: timeQuery.meta({ description: 'Recorded by the service at this time or later' }),
  to: timeQuery.meta({ description: 'Recorded by the service before this time' }),
});

/** Alarms: the list, and what people do with one of them. */
export function alarmRoutes(port: IngestPort, records: Kysely<Database>, log: Logger): Route[] {
  const changed = (done: Awaited<ReturnType<IngestPort['acknowledgeAlarm']>>): Answer => ({ status: 200, body: JSON.parse(granted(done).alarm) as unknown });
  return [
    route(
      {
        method: 'get', path: '/api/alarms', group,
        summary: 'Alarms, newest first',
        query: alarmQuery,
        answers: { 200: { description: 'A page of alarms', schema: listSchema(alarmSchema).extend({ total: z.number().int().meta({ description: 'How many alarms match the filters, on all pages' }) }) } },
        unchecked: true,
      },
      async ({ query }) => {
        const filter = { ...query, from: timeOf(query.from), to: timeOf(query.to) };
        const page = await listAlarms(records, filter, pageRequest('alarms', query));
        const unwritten = await unwrittenAlarms(port, records, filter);
        const items = [...(query.cursor === undefined ? unwritten : []), ...shownRecords(page.rows)];
        return listAnswer(items, page.next === null ? null : writeCursor('alarms', page.next), { total: page.total + unwritten.length });
      },
    ),
    route(
      {
        method: 'post', path: '/api/alarms/{id}/acknowledge', group,
        summary: 'Acknowledge an alarm, or add a note to an acknowledged one; the first acknowledgement is kept',
        params, body: jsonBody(acknowledgeSchema),
        answers: { 200: { description: 'The alarm', schema: alarmSchema } },
        problems: [404, 409],
      },
      async ({ params: { id }, body: { by = 'local', note } }) => {
        const answer = changed(await port.acknowledgeAlarm(id, by, note ?? null));
        log.info({ id, actor: 'local', by }, 'alarm acknowledged');
        return answer;
      },
    ),
    route(
      {
        method: 'post', path: '/api/alarms/{id}/shelve', group,
        summary: 'Shelve an alarm for a time, with the reason; it returns by itself',
        params, body: jsonBody(shelveSchema),
        answers: { 200: { description: 'The alarm', schema: alarmSchema } },
        problems: [404, 409],
      },
      async ({ params: { id }, body: { until, reason, by = 'local' } }) => {
        const answer = changed(await port.shelveAlarm(id, by, reason, shelvedUntil(until)));
        log.info({ id, actor: 'local', by, reason }, 'alarm shelved');
        return answer;
      },
    ),
    route(
      {
        method: 'post', path: '/api/alarms/{id}/unshelve', group,
        summary: 'End the shelving of an alarm early',
        params, body: jsonBody(unshelveSchema),
        answers: { 200: { description: 'The alarm', schema: alarmSchema } },
        problems: [404, 409],
      },
      async ({ params: { id }, body: { by = 'local' } }) => {
        const answer = changed(await port.unshelveAlarm(id, by));
        log.info({ id, actor: 'local', by }, 'alarm unshelved');
        return answer;
      },
    ),
    route(
      {
        method: 'post', path: '/api/alarms/acknowledge', group,
        summary: 'Acknowledge many alarms in one step: named ones, or those of a run or of a carriage',
        body: jsonBody(acknowledgeManySchema),
        answers: { 200: { description: 'How many alarms were newly acknowledged', schema: z.strictObject({ acknowledged: z.number().int() }) } },
        problems: [404],
      },
      async ({ body: { ids, run, carriage, cleared = false, by = 'local', note } }) => {
        const done = granted(await port.acknowledgeAlarms({ ids, run, carriage, cleared }, by, note ?? null));
        log.info({ ...done, run, carriage, cleared, actor: 'local', by }, 'alarms acknowledged');
        return { status: 200, body: done };
      },
    ),
  ];
}

/** µs since 1970. Throws a problem if it is not a time within the next day. */
function shelvedUntil(until: number | string): number {
  const time = readDeviceTime(until);
  const ahead = time / 1e3 - Date.now();
  if (ahead > 0 && ahead <= shelvedAtMost) return time;
  const reason = 'must be Unix milliseconds or RFC 3339 text, later than now by at most 24 h';
  throw problemError(400, `until: ${reason}.`, { fields: [{ field: 'until', reason }] });
}

/** While nothing can be stored, the service's own alarms are nowhere else. */
async function unwrittenAlarms(port: IngestPort, records: Kysely<Database>, { state, site, carriage, run, seam, active, priority, from = -Infinity, to = Infinity }: AlarmFilter): Promise<string[]> {
  if ([site, carriage, run, seam].some((own) => own !== undefined)) return [];
  const unwritten: string[] = [];
  for (const text of port.serviceAlarms()) {
    const alarm = alarmSchema.parse(JSON.parse(text));
    const raised = Date.parse(alarm.raisedAt) * 1e3;
    const fits = (state ?? alarm.state) === alarm.state && (priority ?? alarm.priority) === alarm.priority && raised >= from && raised < to;
    if (fits && (active ?? alarm.returnedAt === null) === (alarm.returnedAt === null) && (await findAlarm(records, alarm.id)) === undefined) unwritten.push(text);
  }
  return unwritten;
}
