import { z } from 'zod';
import { timeSchema } from './common.js';

export const healthSchema = z
  .strictObject({
    status: z.literal('ok'),
    writtenAt: timeSchema.nullable().meta({ description: 'Time of the last write probe that succeeded' }),
  })
  .meta({ id: 'Health' });

export type Health = z.infer<typeof healthSchema>;
