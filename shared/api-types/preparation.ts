import { z } from 'zod';
import { missableEntries, preparationEntries } from '../weld/procedure/assignment.js';
import { arcNumberSchema, figureSchema, timeSchema } from './common.js';

const missingEntrySchema = z.strictObject({
  entry: z.enum(missableEntries),
  arc: arcNumberSchema.nullable().meta({ description: 'null where it is asked of the carriage as a whole' }),
  reason: z.enum(['notEntered', 'notDone', 'outside']),
  value: figureSchema.meta({ description: 'mm or °C, with its limits, where it lies outside; a temperature that was not measured has its limits too; else null' }),
  against: z.enum(['procedure', 'trade']).nullable().meta({ description: 'Whose limits: the window of the procedure, or what the trade keeps to' }),
  min: figureSchema,
  max: figureSchema,
});

/** Entries before arc start that the procedure or the trade asks for and that are missing, in the order of the work. They stop nobody. */
export const preparationSchema = z
  .strictObject({
    missing: z.array(missingEntrySchema),
    confirmed: z
      .array(z.strictObject({ entry: z.enum(preparationEntries), arc: arcNumberSchema.nullable(), by: z.string(), at: timeSchema }))
      .optional()
      .meta({ description: 'What somebody at the carriage entered or confirmed, as it is now; what is neither here nor missing was declared with the assignment. Left out in records made before it was told apart' }),
  })
  .meta({ id: 'PreparationState' });

export type PreparationState = z.infer<typeof preparationSchema>;
