import { z } from 'zod';
import { arcNumberSchema, figureSchema, timeSchema } from './common.js';

/** One stretch of a run outside one window. Places mm; `limit` and `worst` in the unit of the quantity. */
export const excursionSchema = z
  .strictObject({
    id: z.string(),
    arc: arcNumberSchema.nullable().meta({ description: 'null where the quantity is that of the carriage' }),
    quantity: z.string().meta({ description: 'Named as the window is; meanHeatInput for the mean of the weld zone' }),
    limit: z.number().meta({ description: 'The limit that was crossed' }),
    worst: z.number(),
    fromTime: timeSchema,
    toTime: timeSchema.nullable().meta({ description: 'null, like the other ends, while it lasts' }),
    fromTravelled: z.number(),
    toTravelled: figureSchema,
    fromSeamPosition: z.number(),
    toSeamPosition: figureSchema,
    fromDegrees: figureSchema.meta({ description: 'The same places in degrees of a circumferential seam, never modulo 360; null where it is none' }),
    toDegrees: figureSchema,
    fromSeamDegrees: figureSchema,
    toSeamDegrees: figureSchema,
  })
  .meta({ id: 'Excursion' });

export type ExcursionAnswer = z.infer<typeof excursionSchema>;
