import { z } from 'zod';
import { timeSchema } from './common.js';

export const healthSchema = z
  .strictObject({
    status: z.literal('ok'),
    writtenAt: timeSchema.nullable().meta({ description: 'Time of the last write probe that succeeded' }),
    damage: z.string().optional().meta({ description: 'What was found damaged in the store since the start; left out where nothing was' }),
  })
  .meta({ id: 'Health' });
