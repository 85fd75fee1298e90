import { z } from 'zod';
import { alarmSchema } from './alarm.js';
import { assignmentSchema } from './assignment.js';
import { arcNumberSchema, figureSchema, nameSchema, timeSchema } from './common.js';

/** What a carriage does now: values are the newest, running figures those of the run so far. */
export const carriageSchema = z
  .strictObject({
    site: nameSchema,
    carriage: nameSchema,
    online: z.boolean().nullable().meta({ description: 'null while no status was received' }),
    welding: z.boolean(),
    lastSeen: timeSchema.nullable(),
    clockOffset: figureSchema.meta({ description: 'Arrival minus device time of the newest item, s' }),
    assignment: assignmentSchema.nullable(),
    run: z.string().nullable(),
    arcs: z.array(
      z.strictObject({
        arc: arcNumberSchema,
        on: z.boolean(),
        current: figureSchema,
        voltage: figureSchema,
        wireFeedSpeed: figureSchema,
        currentVariation: figureSchema,
        voltageVariation: figureSchema,
      }),
    ),
    travelSpeed: figureSchema,
    travelled: figureSchema,
    seamPosition: figureSchema,
    arcEnergy: figureSchema,
    heatInput: figureSchema,
    localHeatInput: figureSchema,
  })
  .meta({ id: 'Carriage' });

export type Carriage = z.infer<typeof carriageSchema>;
