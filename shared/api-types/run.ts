import { z } from 'zod';
import { spreadNames } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { assignmentSchema } from './assignment.js';
import { absentSchema, arcNumberSchema, figureSchema, nameSchema, reasonsSchema, timeSchema } from './common.js';
import { depositSchema, electricitySchema, extensionSchema } from './consumables.js';
import { coolingSchema } from './cooling.js';
import { preparationSchema } from './preparation.js';
import { runSensorsSchema } from './sensors.js';
import { runTemperatureSchema, temperatureCheckSchema } from './temperature.js';

const spread = { mean: z.number(), min: z.number(), max: z.number(), standardDeviation: z.number() };
const spreadSchema = z.strictObject(spread);
const spreadWithRmsSchema = z.strictObject({ ...spread, rms: z.number() });

/** Figures of one arc: energy kJ, times s, lengths mm, sent quantities in their external unit. */
export const runArcSchema = z.strictObject({
  arc: arcNumberSchema,
  current: spreadWithRmsSchema.nullable(), voltage: spreadWithRmsSchema.nullable(), ...recordOf(spreadNames, () => spreadSchema.nullable()),
  energy: figureSchema, arcTime: figureSchema, length: figureSchema, samples: z.number().int(),
  currentVariation: figureSchema, voltageVariation: figureSchema,
  voltageRaw: spreadWithRmsSchema.nullable().meta({ description: 'The voltage as it was sent; null where it was not corrected for the drop in the cables' }),
  ac: z.strictObject({
    currentRms: z.number(), voltageRms: z.number(),
    balance: figureSchema.meta({ description: 'Share of arc-on time with a current above 0' }),
    currentOffset: figureSchema.meta({ description: 'Mean of the current with its sign, A' }),
    powerFactor: figureSchema.meta({ description: 'Energy over the product of RMS voltage, RMS current and arc-on time' }),
  }).nullable().meta({ description: 'null for direct current' }),
  ripple: figureSchema.meta({ description: 'Of direct current: RMS of the difference from the mean of its 100 ms, over its mean. What is faster than the samples is not seen' }),
  extinctions: z.number().int().nullable(), shortCircuits: z.number().int().nullable(),
  currentDensity: figureSchema.meta({ description: 'A/mm²: mean current, RMS where the arc is on alternating current, over the cross-section of its wires' }),
  extension: extensionSchema,
  absent: absentSchema, reasons: reasonsSchema,
});

/** Means of one arc over the weld zone, as windows judge them: amounts of current and voltage, RMS where the arc alternates. */
export const weldZoneArcSchema = z.strictObject({
  arc: arcNumberSchema, current: figureSchema, voltage: figureSchema, ...recordOf(spreadNames, () => figureSchema), absent: absentSchema, reasons: reasonsSchema,
});

export const restartSchema = z.strictObject({
  arc: arcNumberSchema, stoppedAt: timeSchema, stoppedTravelled: figureSchema, stoppedDegrees: figureSchema,
  restartedAt: timeSchema, restartedTravelled: figureSchema, restartedDegrees: figureSchema,
  overlap: figureSchema.meta({ description: 'mm; negative where length was left unwelded' }), positionConfirmed: z.boolean(),
});

export const dataGapSchema = z.strictObject({
  fromTime: timeSchema, toTime: timeSchema.nullable(), fromTravelled: figureSchema, toTravelled: figureSchema, fromDegrees: figureSchema, toDegrees: figureSchema,
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
    sensors: runSensorsSchema.nullable().meta({ description: 'The sensors as declared when the arc was lit; null where nothing was declared' }),
    runGroup: z.string().nullable().meta({ description: 'Run group of the procedure by which it was judged: its name, with its runs where it has none of its own; null where none fits' }),
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
    weldZone: z.strictObject({
      length: figureSchema, arcTime: figureSchema, energy: figureSchema, heatInput: figureSchema,
      travelSpeed: figureSchema, arcs: z.array(weldZoneArcSchema).nullable().meta({ description: 'null in runs recorded before this was noted whose rows can no longer be read' }),
    }),
    t85: coolingSchema.nullable(),
    deposit: depositSchema,
    electricity: electricitySchema,
    travelSpeed: spreadSchema.nullable(),
    travel: z.enum(['measured', 'declared']).nullable().meta({ description: 'declared: lengths, speeds and what is computed from them rest on a set point or a stopwatch; null where nothing was said' }),
    travelled: figureSchema.meta({ description: 'mm from the start of the run to its end, with its sign' }),
    degrees: figureSchema.meta({ description: 'The same round a circumferential seam, never modulo 360, as wherever degrees stand beside a place; null where the seam is none' }),
    circumference: z.strictObject({ diameter: z.number(), degrees: z.number(), turns: z.number(), overlap: z.number() }).nullable()
      .meta({ description: 'How far its length goes round a circumferential seam: diameter and overlap (what lies beyond a full turn) mm; turns are not rounded' }),
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
