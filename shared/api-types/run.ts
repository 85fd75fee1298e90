import { z } from 'zod';
import { spreadNames } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { assignmentSchema } from './assignment.js';
import { absentSchema, arcNumberSchema, figureSchema, nameSchema, reasonsSchema, timeSchema } from './common.js';
import { preparationSchema } from './preparation.js';
import { runTemperatureSchema, temperatureCheckSchema } from './temperature.js';

const spread = { mean: z.number(), min: z.number(), max: z.number(), standardDeviation: z.number() };
const spreadSchema = z.strictObject(spread);
const spreadWithRmsSchema = z.strictObject({ ...spread, rms: z.number() });

/** Figures of one arc: energy kJ, times s, lengths mm, sent quantities in their external unit. */
export const runArcSchema = z.strictObject({
  arc: arcNumberSchema,
  current: spreadWithRmsSchema.nullable(), voltage: spreadWithRmsSchema.nullable(), ...recordOf(spreadNames, () => spreadSchema.nullable()),
  energy: figureSchema, arcTime: figureSchema, length: figureSchema, samples: z.number().int(),
  currentVariation: figureSchema, voltageVariation: figureSchema, extinctions: z.number().int().nullable(), shortCircuits: z.number().int().nullable(),
  absent: absentSchema, reasons: reasonsSchema,
});

export const restartSchema = z.strictObject({
  arc: arcNumberSchema, stoppedAt: timeSchema, stoppedTravelled: figureSchema, restartedAt: timeSchema, restartedTravelled: figureSchema,
  overlap: figureSchema.meta({ description: 'mm; negative where length was left unwelded' }), positionConfirmed: z.boolean(),
});

export const dataGapSchema = z.strictObject({
  fromTime: timeSchema, toTime: timeSchema.nullable(), fromTravelled: figureSchema, toTravelled: figureSchema,
});

/** Where the items of a run came from: a carriage as it welded, or a log that was imported. */
export const originSchema = z.strictObject({
  kind: z.enum(['live', 'log']),
  file: z.string().nullable().meta({ description: 'Name of the log, where it is known' }),
  at: timeSchema.nullable().meta({ description: 'When it was imported first, where it is known' }),
  by: z.string().nullable(),
});

/** One passage along a seam with its figures. Energies kJ, energies per length kJ/mm, lengths mm, times s, speeds mm/min. */
export const runSchema = z
  .strictObject({
    id: z.string(),
    site: nameSchema,
    carriage: nameSchema,
    seam: z.string().nullable(),
    run: z.number().int().nullable(),
    attempt: z.number().int().min(1),
    assigned: z.boolean(),
    assignment: assignmentSchema.nullable(),
    procedure: z.strictObject({ id: z.string(), revision: z.number().int().min(1) }).nullable()
      .meta({ description: 'Revision in force when the arc was lit; null where none was named or it did not exist (flag procedureUnknown)' }),
    preparation: preparationSchema.nullable().meta({ description: 'What was missing before the arc was lit; null where the run is not assigned' }),
    temperatures: z.array(runTemperatureSchema).nullable().meta({ description: 'Temperatures of the plate that were measured for it, by the time at which they were' }),
    temperatureChecks: z.array(temperatureCheckSchema).nullable().meta({ description: 'The one that counts against the limits of the run group; empty where it has none' }),
    state: z.enum(['welding', 'finished']),
    version: z.number().int().min(1),
    revisedAt: timeSchema.nullable(),
    simulated: z.boolean(),
    startedAt: timeSchema,
    endedAt: timeSchema.nullable(),
    duration: figureSchema,
    arcTime: figureSchema,
    length: figureSchema,
    lengths: z.strictObject({ inside: figureSchema, outside: figureSchema, notProven: figureSchema, excluded: figureSchema }).nullable(),
    energy: figureSchema,
    arcEnergy: figureSchema,
    thermalEfficiency: z.number(),
    heatInput: figureSchema,
    method: z.enum(['instantaneous', 'average']),
    weldZone: z.strictObject({ length: figureSchema, arcTime: figureSchema, energy: figureSchema, heatInput: figureSchema }),
    travelSpeed: spreadSchema.nullable(),
    travelled: figureSchema.meta({ description: 'mm from the start of the run to its end, with its sign' }),
    arcs: z.array(runArcSchema),
    restarts: z.array(restartSchema),
    dataGaps: z.array(dataGapSchema),
    clock: z.enum(['steady', 'stepped', 'arrival']),
    identity: z.enum(['full', 'time', 'none']),
    excursions: z.number().int().min(0).meta({ description: 'How many stretches lie outside a window; they are listed under /excursions' }),
    judged: z.boolean().meta({ description: 'false where no limits applied to it: then no excursions says nothing of the weld' }),
    notJudged: z.enum(['unassigned', 'noProcedure', 'procedureUnknown', 'noLimits']).nullable().meta({ description: 'Why it was not judged; null where it was' }),
    origin: originSchema,
    complete: z.boolean(),
    litElsewhere: z.boolean().nullable().meta({ description: 'It began because the arc was lit more than 300 mm, by the travel sent, from where it had gone out: it may be the next run. null in runs recorded before this was noted' }),
    flags: z.array(z.string()).meta({ description: 'What else is to be known of it: sharedSeam, travelJump, procedureUnknown, litElsewhere, averageOfAlternating, …' }),
    absent: absentSchema,
    reasons: reasonsSchema,
  })
  .meta({ id: 'Run' });

const namesSchema = z.array(z.string()).max(1000);

/** Names that runs have, by which they can be filtered; of each kind those of the newest runs. */
export const runNamesSchema = z
  .strictObject({ sites: namesSchema, carriages: namesSchema, seams: namesSchema, procedures: namesSchema, operators: namesSchema, lots: namesSchema })
  .meta({ id: 'RunNames' });

export type RunNamesAnswer = z.infer<typeof runNamesSchema>;

export type Run = z.infer<typeof runSchema>;
