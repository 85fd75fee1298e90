import { z } from 'zod';
import { readDeviceTime, timeTaken } from '../weld/decode/device-time.js';
import { measuredRange, measurementKinds, measurementPlaces } from '../weld/temperatures/measurement.js';
import { checkedTemperatures } from '../weld/temperatures/temperature-checks.js';
import { figureSchema, nameSchema, timeSchema } from './common.js';
import { latestMilliseconds, timePattern } from './described-text.js';
import { freeText } from './free-text.js';

const kind = z.enum(measurementKinds).meta({ description: 'preheat before the first run, interpass before any later one; either counts' });
const place = z.enum(measurementPlaces);
const told = { seam: z.string().nullable(), seamPosition: figureSchema, distance: figureSchema.meta({ description: 'mm from the edge of the groove (ISO 13916)' }), instrument: z.string().nullable() };
const withdrawn = z.strictObject({ at: timeSchema, by: z.string() }).nullable().meta({ description: 'By whom it was withdrawn, and when by the clock of the service; null where it holds' });

/** A temperature of a run, as its record lists it. */
export const runTemperatureSchema = z.strictObject({
  id: z.string().nullable().meta({ description: 'null where it was not entered as a measurement' }),
  kind, value: z.number(), at: timeSchema,
  place: place.nullable().meta({ description: 'null where nobody said where the sensor of the carriage measures' }),
  ...told,
  by: z.string().nullable(),
  from: z.enum(['entered', 'preparation', 'sensor']),
  used: z.boolean().meta({ description: 'It is the one that counts for the run' }),
  withdrawn,
});

/** The temperature that counts for a run, against one pair of limits, °C. */
export const temperatureCheckSchema = z.strictObject({
  quantity: z.enum(checkedTemperatures), min: figureSchema, max: figureSchema,
  value: figureSchema.meta({ description: 'The temperature that counts; null where none was measured in time' }),
  verdict: z.enum(['inside', 'outside', 'notMeasured']),
});

/** A temperature of the plate that somebody measured and entered, °C, mm. */
export const temperatureSchema = z
  .strictObject({
    id: z.string(), site: nameSchema, carriage: nameSchema,
    run: z.string().nullable().meta({ description: 'The run that it was entered at; null where it was entered at the carriage, for the run to come' }),
    kind, value: z.number(),
    at: timeSchema.meta({ description: 'When it was measured, by the clock of the carriage' }),
    place, ...told, by: z.string(), reason: z.string().nullable(),
    enteredAt: timeSchema.meta({ description: 'By the clock of the service' }),
    withdrawn,
  })
  .meta({ id: 'Temperature' });

const length = (low: number, high: number): z.ZodOptional<z.ZodNullable<z.ZodNumber>> => z.number().min(low).max(high).nullable().optional();

/** A measurement as it is entered. */
export const temperatureRequestSchema = z
  .strictObject({
    kind,
    value: z.number().min(measuredRange.least).max(measuredRange.greatest).meta({ description: '°C' }),
    at: z.union([z.number().meta({ minimum: 0, maximum: latestMilliseconds }), z.string().meta({ pattern: timePattern })])
      .refine((time) => !Number.isNaN(readDeviceTime(time)), { error: `must be ${timeTaken}` }).nullable().optional()
      .meta({ description: 'When it was measured, by the clock of the carriage: ms since 1970 or RFC 3339; if left out, now by that clock' }),
    seam: freeText(128).nullable().optional().meta({ description: 'At a carriage, if left out: the seam of the assignment in force. null: whichever is welded next' }),
    place: place.nullable().optional().meta({ description: 'ahead if left out; what was measured behind the arc never counts' }),
    seamPosition: length(-1e7, 1e7), distance: length(0, 1e5),
    instrument: freeText(128).nullable().optional(),
    by: freeText(100).optional(), reason: freeText(500).optional(),
  })
  .meta({ id: 'TemperatureRequest' });

export type TemperatureMeasurement = z.infer<typeof temperatureSchema>;
export type RunTemperatureAnswer = z.infer<typeof runTemperatureSchema>;
