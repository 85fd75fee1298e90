import { z } from 'zod';
import { capabilityNames } from '../weld/capability/capability-quantities.js';
import { absentSchema, arcNumberSchema, figureSchema, reasonsSchema, timeSchema } from './common.js';

/** How steady runs were in one quantity, and how well they fit between its limits. All but the four indices are in the unit of the quantity. */
export const capabilitySchema = z
  .strictObject({
    procedure: z.string(),
    quantity: z.enum(capabilityNames),
    arc: arcNumberSchema.nullable().meta({ description: 'null for quantities of the run' }),
    runGroup: z.string().nullable().meta({ description: 'null where the procedure has no run groups' }),
    window: z.strictObject({ min: z.number().optional(), max: z.number().optional() }).nullable().meta({ description: 'The limits by which the last of the runs was judged' }),
    runs: z.array(z.strictObject({ id: z.string(), value: z.number(), endedAt: timeSchema }))
      .meta({ description: 'One value for each finished production run, in the order in which they ended: the mean over the weld zone, RMS where an arc alternates; runs without one are left out' }),
    mean: figureSchema,
    standardDeviation: figureSchema.meta({ description: 'With n − 1' }),
    movingRange: figureSchema.meta({ description: 'Mean of the differences from run to run, without sign' }),
    spread: figureSchema.meta({ description: 'movingRange / 1.128' }),
    limits: z.strictObject({ lower: z.number(), upper: z.number() }).nullable().meta({ description: 'Control limits of the individuals chart, mean ∓ 3 · spread' }),
    cp: figureSchema.meta({ description: '(max − min) / (6 · spread)' }),
    cpk: figureSchema.meta({ description: 'min(max − mean, mean − min) / (3 · spread); of the one side that has a limit' }),
    pp: figureSchema.meta({ description: 'As cp, with the standard deviation' }),
    ppk: figureSchema.meta({ description: 'As cpk, with the standard deviation' }),
    signals: z.array(z.strictObject({ rule: z.enum(['limit', 'side']), runs: z.array(z.string()) }))
      .meta({ description: 'limit: a value beyond a control limit; side: eight or more in a row strictly on one side of the mean' }),
    few: z.boolean().meta({ description: 'Fewer than 25 runs' }),
    unreadable: z.number().int().min(1).optional().meta({ description: 'How many runs were left out, since a damaged store no longer gives their records' }),
    absent: absentSchema,
    reasons: reasonsSchema,
  })
  .meta({ id: 'Capability' });

export type CapabilityAnswer = z.infer<typeof capabilitySchema>;
