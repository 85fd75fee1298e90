import type { Kysely } from 'kysely';
import { z } from 'zod';
import { assignmentAnswer } from '../../shared/api-types/assignment.js';
import { listSchema } from '../../shared/api-types/common.js';
import { jobChangeSchema, lateSchema, refusedSchema, type JobChange, type LateItem, type Refused } from '../../shared/api-types/entries.js';
import { listJobChanges } from '../../shared/records/job-changes.js';
import { listLate } from '../../shared/records/late.js';
import { writeCursor } from '../../shared/records/page.js';
import { listRefused } from '../../shared/records/refused.js';
import type { Database } from '../../shared/records/tables.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { Item } from '../../shared/weld/items/item.js';
import { optionalNames, requiredNames } from '../../shared/weld/quantities.js';
import { recordOf } from '../../shared/weld/rows/record-of.js';
import { isoTime } from '../../shared/weld/run/run-figures.js';
import { pageQuery, pageRequest, timeOf, timeQuery } from './query-values.js';
import { listAnswer, route, type Route } from './route.js';
import { runOrProblem, runParams } from './run-routes.js';

type RefusedRow = Awaited<ReturnType<typeof listRefused>>['rows'][number];
type ChangeRow = Awaited<ReturnType<typeof listJobChanges>>['rows'][number];
type LateRow = Awaited<ReturnType<typeof listLate>>['rows'][number];

/** Refused messages and late items. */
export function entryRoutes(records: Kysely<Database>): Route[] {
  return [
    route(
      {
        method: 'get', path: '/api/refused', group: 'items',
        summary: 'Refused messages and items, newest first',
        query: z.strictObject({ ...pageQuery, since: timeQuery.meta({ description: 'Received at this time or later' }) }),
        answers: { 200: { description: 'A page of refused entries', schema: listSchema(refusedSchema).extend({ total: z.number().int().meta({ description: 'How many there are on all pages' }) }) } },
        unchecked: true,
      },
      async ({ query }) => {
        const page = await listRefused(records, pageRequest('refused', query), timeOf(query.since) ?? null);
        return listAnswer(page.rows.map((row) => JSON.stringify(refusedAnswer(row))), page.next === null ? null : writeCursor('refused', page.next), { total: page.total });
      },
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}/late', group: 'runs',
        summary: 'Items that came too late to change the run, newest first',
        params: runParams, query: z.strictObject(pageQuery),
        answers: { 200: { description: 'A page of late items', schema: listSchema(lateSchema) } },
        problems: [404], unchecked: true,
      },
      async ({ params, query }) => {
        const request = pageRequest('late', query);
        const { id } = await runOrProblem(records, params.id);
        const page = await listLate(records, id, request);
        return listAnswer(page.rows.map((row) => JSON.stringify(lateAnswer(row))), page.next === null ? null : writeCursor('late', page.next));
      },
    ),
    route(
      {
        method: 'get', path: '/api/runs/{id}/job-changes', group: 'runs',
        summary: 'Who gave or corrected the assignment of the run, when and why, newest first',
        params: runParams, query: z.strictObject(pageQuery),
        answers: { 200: { description: 'A page of changes', schema: listSchema(jobChangeSchema) } },
        problems: [404], unchecked: true,
      },
      async ({ params, query }) => {
        const request = pageRequest('job-changes', query);
        const { id } = await runOrProblem(records, params.id);
        const page = await listJobChanges(records, id, request);
        return listAnswer(page.rows.map((row) => JSON.stringify(changeAnswer(row))), page.next === null ? null : writeCursor('job-changes', page.next));
      },
    ),
  ];
}

function refusedAnswer(row: RefusedRow): Refused {
  const head = new TextDecoder('utf-8').decode(row.head);
  return { id: String(row.id), receivedAt: isoTime(row.received), topic: row.topic, reason: row.reason, size: row.size, head };
}

function changeAnswer({ id, at, by, reason, before, after }: ChangeRow): JobChange {
  const answer = (text: string | null): JobChange['before'] => (text === null ? null : assignmentAnswer(JSON.parse(text) as Assignment));
  return { id: String(id), at: isoTime(at), by, reason, before: answer(before), after: answer(after) };
}

function lateAnswer(row: LateRow): LateItem {
  // Written by ingest as it decoded it.
  const item = JSON.parse(row.item) as Item;
  return {
    id: String(row.id), receivedAt: isoTime(row.received), boot: row.boot, seq: row.seq, arc: row.arc, time: row.time === null ? null : isoTime(row.time),
    item: {
      interval: item.interval, samples: item.count,
      ...recordOf(requiredNames, (name) => listed(item[name])),
      // A record from before a quantity was known has no entry for it.
      ...recordOf(optionalNames, (name) => (item[name] == null ? null : listed(item[name]))),
    },
  };
}

function listed(values: Item['current']): number | number[] {
  return typeof values === 'number' ? values : [...values];
}
