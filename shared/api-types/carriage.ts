import { z } from 'zod';
import { judgedArcNames, judgedRunNames, spreadNames } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { alarmSchema } from './alarm.js';
import { assignmentSchema } from './assignment.js';
import { absentSchema, arcNumberSchema, figureSchema, nameSchema, reasonsSchema, timeSchema } from './common.js';
import { coolingSchema } from './cooling.js';
import { driftSchema, outlookSchema } from './outlook.js';
import { preparationSchema } from './preparation.js';
import { temperatureCheckSchema } from './temperature.js';

const count = z.number().int().min(0);
const windowSchema = z.strictObject({ min: z.number().optional(), max: z.number().optional() }).optional();

const windowsSchema = z.strictObject({
  arcs: z.array(z.strictObject({ arc: arcNumberSchema, ...recordOf(judgedArcNames, () => windowSchema) })),
  ...recordOf(judgedRunNames, () => windowSchema),
});

/** When the plate will be ready for the next run; all by the clock of the carriage. */
const readyFields = {
  readyAt: timeSchema.nullable().meta({ description: 'An estimate, never a measurement or a release: when the plate will have cooled to the max of interpass temperature, by the last two temperatures measured ahead since the arc went out. null with the reason in absent, and while an arc burns' }),
  readyUntil: timeSchema.nullable().meta({ description: 'The same estimate: when it will have cooled to the min of preheat' }),
  readyFrom: z.array(z.string()).length(2).nullable().meta({ description: 'Ids of the two temperatures' }),
  absent: absentSchema.meta({ description: 'Why t85, readyAt, readyUntil or readyFrom is null' }),
  reasons: reasonsSchema,
};

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
    litElsewhere: z.boolean().optional().meta({ description: 'The run being welded began because the arc was lit more than 300 mm, by the travel sent, from where it had gone out: it may be the next run' }),
    runStartedAt: timeSchema.nullable().optional().meta({ description: 'Of the run being welded, by the clock of the carriage; an assignment from this time on covers the whole of it' }),
    arcOutSince: timeSchema.nullable().optional().meta({ description: 'Since when no arc of the run burns; null while one does, and without a run' }),
    lastRun: z.string().nullable().optional().meta({ description: 'Id of the newest run of the carriage, finished or not' }),
    arcs: z.array(
      z.strictObject({
        arc: arcNumberSchema, on: z.boolean(), current: figureSchema, voltage: figureSchema, ...recordOf(spreadNames, () => figureSchema),
        currentVariation: figureSchema, voltageVariation: figureSchema,
      }),
    ),
    travelSpeed: figureSchema,
    travelled: figureSchema,
    seamPosition: figureSchema,
    degrees: figureSchema.optional().meta({ description: 'The same places in degrees of a circumferential seam, never modulo 360; null where it is none' }),
    seamDegrees: figureSchema.optional(),
    arcEnergy: figureSchema,
    heatInput: figureSchema,
    localHeatInput: figureSchema,
    t85: coolingSchema.nullable().optional().meta({ description: 'By the heat input of the weld zone so far; null with the reason in absent while that is not known, and without thickness or temperature before the arc' }),
    windows: windowsSchema.nullable().meta({ description: 'Ranges that the procedure permits for the run being welded, or else for the assignment in force; null without any' }),
    alarms: z.array(alarmSchema).max(10).meta({ description: 'At most 10: those that are not over by priority, the newest first, then those that are over or suppressed, the newest first' }),
    alarmCounts: z
      .strictObject({ active: count, unacknowledged: count, cleared: count, shelved: count, suppressed: count, clearedOfRun: count })
      .meta({ description: 'All alarms that are not back to normal. active: not over, not shelved, not suppressed; unacknowledged: those of the active ones; cleared: over and not acknowledged; clearedOfRun: those of the cleared ones that belong to the run being welded' }),
    outlook: outlookSchema.nullable().meta({ description: 'Of the run that is being welded; null without one' }),
    drift: z.array(driftSchema).meta({ description: 'Quantities on their way out of their window, the soonest first' }),
    temperatureChecks: z.array(temperatureCheckSchema).optional().meta({ description: 'Of the run in which an arc burns; without one of the assignment in force, as if it were lit now' }),
    readyAt: readyFields.readyAt.optional(), readyUntil: readyFields.readyUntil.optional(), readyFrom: readyFields.readyFrom.optional(),
    absent: readyFields.absent.optional(), reasons: readyFields.reasons,
    preparation: preparationSchema.nullable().optional().meta({ description: 'What the assignment in force lacks before the arc is lit; null without one' }),
  })
  .meta({ id: 'Carriage' });

/** As this version answers it. */
export type CarriageTemperatures = Readonly<z.infer<z.ZodObject<typeof readyFields>>>;

export type Carriage = z.infer<typeof carriageSchema>;
