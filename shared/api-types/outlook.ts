import { z } from 'zod';
import { driftingArcNames, driftingRunNames } from '../weld/quantities.js';
import { absentSchema, arcNumberSchema, figureSchema, reasonsSchema, timeSchema } from './common.js';

/** What lies ahead of the current run, at its present speed and feed (means of the last 10 s). */
export const outlookSchema = z
  .strictObject({
    lengthToGo: figureSchema.meta({ description: 'To the end of the seam with its run-off tab, mm' }),
    endsAt: timeSchema.nullable().meta({ description: 'When it gets there, by the clock that the times of the run are in' }),
    wire: z.array(
      z.strictObject({
        arc: arcNumberSchema,
        lengthNeeded: figureSchema.meta({ description: 'Of each wire of the arc, to the end, m' }),
        massNeeded: figureSchema.meta({ description: 'Of all its wires, kg' }),
        massLeft: figureSchema.meta({ description: 'spoolMass of the assignment less what the run has melted, kg' }),
        endsShortBy: figureSchema.meta({ description: 'mm of seam that are left when the wire ends; 0 where there is enough' }),
      }),
    ),
    absent: absentSchema,
    reasons: reasonsSchema,
  })
  .meta({ id: 'Outlook' });

export const driftSchema = z
  .strictObject({
    arc: arcNumberSchema.nullable().meta({ description: 'null for travelSpeed and heatInput' }),
    quantity: z.enum([...driftingArcNames, ...driftingRunNames]),
    limit: z.number().meta({ description: 'The end of the window that it will pass, in the unit of the quantity' }),
    leavesIn: z.number().meta({ description: 's until then' }),
    leavesAfter: figureSchema.meta({ description: 'mm of travel until then; null where no travel is known' }),
  })
  .meta({ id: 'Drift' });

export type Outlook = z.infer<typeof outlookSchema>;
export type Drift = z.infer<typeof driftSchema>;
