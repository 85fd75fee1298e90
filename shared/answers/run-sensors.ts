import type { Run } from '../api-types/run.js';
import type { SensorsAnswer } from '../api-types/sensors.js';
import { pastDue } from '../weld/procedure/sensors.js';
import type { SensorRevision, SensorTimeline } from '../weld/run/sensor-timeline.js';
import { isoTime } from '../weld/run/run-figures.js';

/** A declaration as it is answered. */
export function sensorsAnswer({ revision, body, at, by }: Omit<SensorRevision, 'after'>): SensorsAnswer {
  const { arcs, ...carriage } = body;
  return { ...carriage, ...(arcs === undefined ? {} : { arcs: arcs.map((own) => ({ ...own })) }), revision, at: isoTime(at), by };
}

/** The sensors of a run that was lit at `start`, µs, with what was past due on that day in the shop's zone; null where nothing was declared by then. */
export function runSensors(timeline: SensorTimeline, index: number, start: number, timeZone: string): Run['sensors'] {
  const own = timeline[index];
  return own === undefined ? null : { ...sensorsAnswer(own), pastDue: pastDue(own.body, localDate(start, timeZone)) };
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** The calendar date (ISO 8601) of a time, µs, in an IANA zone. */
function localDate(time: number, timeZone: string): string {
  let format = formats.get(timeZone);
  if (format === undefined) formats.set(timeZone, (format = new Intl.DateTimeFormat('en-CA', { timeZone, calendar: 'gregory', numberingSystem: 'latn', year: 'numeric', month: '2-digit', day: '2-digit' })));
  const parts = Object.fromEntries(format.formatToParts(time / 1e3).map(({ type, value }) => [type, value]));
  return `${parts['year'] ?? ''}-${parts['month'] ?? ''}-${parts['day'] ?? ''}`;
}
