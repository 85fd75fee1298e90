import { z } from 'zod';
import { arcNumberSchema, figureSchema } from './common.js';

const missingEntrySchema = z.strictObject({
  entry: z.enum([
    'surfaceCleaned', 'fluxDried', 'fluxTemperature', 'fluxHours', 'fluxLot', 'wireLot', 'polarityChecked', 'electrodeExtension', 'wireDiameter', 'trackParallel', 'preheatMeasured',
  ]),
  arc: arcNumberSchema.nullable().meta({ description: 'null where it is asked of the carriage as a whole' }),
  reason: z.enum(['notEntered', 'notDone', 'outside']),
  value: figureSchema.meta({ description: 'mm or °C, with its limits, where it lies outside; else null' }),
  against: z.enum(['procedure', 'trade']).nullable().meta({ description: 'Whose limits: the window of the procedure, or what the trade keeps to' }),
  min: figureSchema,
  max: figureSchema,
});

/** What the procedure and the trade ask for before the arc is lit and is missing, in the order of the work. It stops nobody. */
export const preparationSchema = z.strictObject({ missing: z.array(missingEntrySchema) }).meta({ id: 'PreparationState' });

export type PreparationState = z.infer<typeof preparationSchema>;
