import { z } from 'zod';
import { timeSchema } from './common.js';

const addressSchema = z.strictObject({ host: z.string(), port: z.number().int() });

/** What the service is and where it is reached. */
export const serviceSchema = z
  .strictObject({
    version: z.string(),
    timeZone: z.string().meta({ description: 'IANA name of the plant\'s zone, in which pages show times and weeks and shifts begin' }),
    shifts: z
      .array(z.strictObject({ name: z.string().nullable(), begins: z.string().meta({ description: 'Time of day in that zone, 06:00' }) }))
      .meta({ description: 'Shifts of the plant in the order of the day; each lasts until the next one begins. Empty where the plant has set none' }),
    startedAt: timeSchema,
    mqtt: addressSchema.extend({ embedded: z.boolean().meta({ description: 'Whether the broker is part of the service' }) }).meta({ description: 'The broker that carriages connect to' }),
    http: addressSchema,
  })
  .meta({ id: 'Service' });

export type ServiceFacts = z.infer<typeof serviceSchema>;
