import { crc32 } from 'node:zlib';
import { z } from 'zod';
import { arcNumberSchema } from '../api-types/common.js';
import { excursionSchema } from '../api-types/excursion.js';
import { runSchema } from '../api-types/run.js';
import { zoneSchema } from '../api-types/trace.js';

/** Excursions of a run as they are stored. */
export const storedExcursionsSchema = z.array(excursionSchema);

/** Zones among the marks of a run; times µs. */
export const storedZonesSchema = z.array(
  z.strictObject({ zone: zoneSchema, from: z.number(), to: z.number(), arcs: z.array(arcNumberSchema), unpassed: z.literal(true).optional() }),
);

export type StoredZone = z.infer<typeof storedZonesSchema>[number];

/**
 * The version of the shape in which a run is stored for answers: record, excursions and zones. It is computed from their schemas, so that it changes with
 * each figure that is added, removed or renamed, and is stored beside every record.
 */
export const runShape = shapeNumber(z.strictObject({ run: runSchema, excursions: storedExcursionsSchema, zones: storedZonesSchema }));

/** CRC-32 (ISO 3309, as zlib has it) of the JSON Schema of a shape, without what it says in words. */
export function shapeNumber(schema: z.ZodType): number {
  const words = ['description', 'title', 'id', '$schema'];
  return crc32(JSON.stringify(z.toJSONSchema(schema), (key, value: unknown) => (typeof value === 'string' && words.includes(key) ? undefined : value)));
}
