import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { ReceivedItem, Values } from '../../shared/weld/items/item.js';
import type { CarriageEvent } from './replay.js';
import type { PlacedAssignment } from '../model/plain-types.js';
import type { CaseMessage, Payload } from './expand-case.js';
import { optionalNames } from '../../shared/weld/quantities.js';
import { recordOf } from '../../shared/weld/rows/record-of.js';

const numberOrNull = (value: unknown): number | null => (typeof value === 'number' ? value : null);
const valuesOrNull = (value: unknown): Values | null => {
  if (typeof value === 'number') return value;
  return Array.isArray(value) ? value.map(Number) : null;
};

/** Converts Unix ms or RFC 3339 text to µs. */
const instant = (value: unknown): number | null => {
  const time = typeof value === 'string' ? Date.parse(value) : numberOrNull(value);
  return time === null ? null : Math.round(time * 1000);
};

function itemOf(payload: Payload, arrived: number, arrival: number): ReceivedItem {
  const current = valuesOrNull(payload['current']) ?? Number.NaN;
  const voltage = valuesOrNull(payload['voltage']) ?? Number.NaN;
  const time = numberOrNull(payload['time']);
  return {
    boot: typeof payload['boot'] === 'string' ? payload['boot'] : null,
    seq: numberOrNull(payload['seq']),
    time: time === null ? null : Math.round(time * 1000),
    arc: numberOrNull(payload['arc']) ?? 1,
    interval: numberOrNull(payload['interval']),
    count: typeof current === 'number' ? 1 : current.length,
    current,
    voltage,
    ...recordOf(optionalNames, (name) => valuesOrNull(payload[name])),
    arrived,
    arrival,
  };
}

/** The events of a case; everything arrives 50 ms after it was sent. `start` is ms since 1970. */
export function carriageEvents(messages: readonly CaseMessage[], start: number): CarriageEvent[] {
  const events: CarriageEvent[] = [];
  let arrival = 0;
  for (const message of messages) {
    if (message.kind === 'revision' || message.kind === 'temperature') continue;
    if (message.kind === 'assignment') {
      const assignment = message.payload as Assignment | null;
      const micros = instant(message.payload?.['time']);
      events.push({
        type: 'assignment',
        assignment: assignment === null || micros === null ? assignment : { ...assignment, time: micros },
        time: micros,
      });
      continue;
    }
    const payloads: readonly Payload[] = Array.isArray(message.payload) ? message.payload : [message.payload as Payload];
    for (const payload of payloads) {
      events.push({ type: 'item', item: itemOf(payload, Math.round((start + message.at * 1000 + 50) * 1000), arrival) });
      arrival += 1;
    }
  }
  return events;
}

const identity = (item: ReceivedItem): string =>
  item.boot === null || item.seq === null
    ? JSON.stringify([item.arc, item.time ?? `none ${item.arrival}`])
    : JSON.stringify([item.boot, item.seq, item.arc]);

/** The items in canonical order, each once, and the places from which assignments apply (rules, sections 1 and 2). */
export function canonicalOrder(events: readonly CarriageEvent[]): { items: ReceivedItem[]; assignments: PlacedAssignment[] } {
  const first = new Map<string, ReceivedItem>();
  const boots = new Map<string | null, number>();
  for (const event of events) {
    if (event.type !== 'item') continue;
    if (!boots.has(event.item.boot)) boots.set(event.item.boot, boots.size);
    const key = identity(event.item);
    if (!first.has(key)) first.set(key, event.item);
  }
  const place = (item: ReceivedItem): number => boots.get(item.boot) ?? 0;
  const items = [...first.values()].sort(
    (a, b) =>
      place(a) - place(b) ||
      (a.seq === null || b.seq === null ? (a.time ?? a.arrived) - (b.time ?? b.arrived) : a.seq - b.seq) ||
      a.arc - b.arc ||
      a.arrival - b.arrival,
  );
  const indexOf = new Map(items.map((item, index) => [identity(item), index]));
  const assignments: PlacedAssignment[] = [];
  let newest = -1;
  for (const event of events) {
    if (event.type === 'item') newest = Math.max(newest, indexOf.get(identity(event.item)) ?? -1);
    else if (event.time === null) assignments.push({ after: newest, assignment: event.assignment });
    else {
      const time = event.time;
      const from = items.findIndex((item) => (item.time ?? item.arrived) >= time);
      assignments.push({ after: from === -1 ? items.length - 1 : from - 1, assignment: event.assignment });
    }
  }
  return { items, assignments };
}
