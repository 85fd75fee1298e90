import type { Kysely, Selectable } from 'kysely';
import type { Place } from '../weld/items/place.js';
import type { Sensors } from '../weld/procedure/sensors.js';
import type { SensorRevision } from '../weld/run/sensor-timeline.js';
import { rowAsWritten, sensorsSum } from './row-sum.js';
import type { SensorTable } from './measured-tables.js';
import type { Database } from './tables.js';

export type SensorRow = Selectable<SensorTable>;

/** What was declared of the sensors of a stream, the oldest first. Throws an error of damage if it differs from what was written. */
export async function readSensors(records: Kysely<Database>, stream: number): Promise<SensorRevision[]> {
  const rows = await records.selectFrom('sensors').selectAll().where('stream_id', '=', stream).orderBy('revision').execute();
  return rows.map((row) => sensorRevision(rowAsWritten('a declaration of sensors', row, sensorsSum)));
}

/** A declaration as it is stored. */
export function sensorRevision({ revision, body, after, at, by }: Pick<SensorRow, 'revision' | 'body' | 'after' | 'at' | 'by'>): SensorRevision {
  return { revision, body: JSON.parse(body) as Sensors, after: after === null ? null : (JSON.parse(after) as Place), at, by };
}

/** What was declared of the sensors of a carriage itself. */
export async function readCarriageSensors(records: Kysely<Database>, site: string, carriage: string): Promise<SensorRevision[]> {
  const found = await records.selectFrom('streams').select('id').where('site', '=', site).where('carriage', '=', carriage).where('stream', '=', '').executeTakeFirst();
  return found === undefined ? [] : await readSensors(records, found.id);
}
