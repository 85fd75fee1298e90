import { z } from 'zod';
import { withdrawnCodes } from '../weld/judging/alarm-life.js';
import { actionTextsSchema, figureSchema, nameSchema, timeSchema } from './common.js';
import { timePattern } from './described-text.js';
import { freeText } from './free-text.js';

export const alarmStates = ['unacknowledged', 'acknowledged', 'returned', 'shelved', 'suppressed', 'normal'] as const;
export const alarmPriorities = ['high', 'medium', 'low'] as const;

/**
 * An alarm with its life cycle (terms of IEC 62682). `limit` and `worst` are in the unit of the quantity: A, V, mm/min,
 * m/min, kJ/mm, mm (overlap), A·min/m (feedMismatch), s (noData); places are mm.
 */
export const alarmSchema = z
  .strictObject({
    id: z.string(),
    site: nameSchema.nullable().meta({ description: 'null for an alarm of the service itself: storage, broker' }),
    carriage: nameSchema.nullable(),
    run: z.string().nullable(),
    seam: z.string().nullable().meta({ description: 'As assigned when it was raised; null if there was none, and for alarms stored before this field existed' }),
    runNumber: z.number().int().nullable().meta({ description: 'That of the run it belongs to, as assigned when it was raised' }),
    arc: z.number().int().nullable().meta({ description: 'null where the quantity is the carriage\'s' }),
    quantity: z.string().meta({ description: 'The quantity that has limits, or noData, travelStopped, polarity, overlap, feedMismatch, sequence; of the service storage, broker, serviceClock, carriages' }),
    limit: figureSchema,
    worst: figureSchema,
    priority: z.enum(alarmPriorities),
    response: z.string().nullable().meta({ description: 'What the procedure asks for' }),
    responses: actionTextsSchema.optional().meta({ description: 'The same in further languages, where the procedure gives them' }),
    state: z.enum(alarmStates),
    since: timeSchema.meta({ description: 'Where the excursion began' }),
    raisedAt: timeSchema.meta({ description: 'When its on-delay was over, by the clock of the carriage' }),
    recordedAt: timeSchema.nullable().meta({ description: 'When it was raised, by the clock of the service; null for alarms stored before this field existed' }),
    travelled: figureSchema.meta({ description: 'mm travelled where the excursion began' }),
    seamPosition: figureSchema.meta({ description: 'The same place in mm from the seam\'s datum' }),
    degrees: figureSchema.optional().meta({ description: 'The same places in degrees of a circumferential seam, never modulo 360; null where it is none, left out of alarms stored before this field existed' }),
    seamDegrees: figureSchema.optional(),
    acknowledgedAt: timeSchema.nullable(),
    acknowledgedBy: z.string().nullable(),
    note: z.string().nullable(),
    returnedAt: timeSchema.nullable().meta({ description: 'When it cleared, by the clock of the carriage' }),
    clearedRecordedAt: timeSchema.nullable().meta({ description: 'When the service learnt that it had cleared, by its own clock' }),
    shelvedUntil: timeSchema.nullable(),
    shelvedBy: z.string().nullable(),
    shelvedReason: z.string().nullable(),
    withdrawn: z.string().nullable().meta({ description: 'Why it was withdrawn; null if it was not' }),
    withdrawnCode: z.enum(withdrawnCodes).optional().meta({ description: 'The same by a code: it lay in the crater, an arc was lit later that had not passed there, or late items show that it was none. Left out where it was not withdrawn, and of alarms stored before this field existed' }),
  })
  .meta({ id: 'Alarm' });

export type Alarm = z.infer<typeof alarmSchema>;
export type AlarmState = Alarm['state'];

const by = freeText(100).optional().meta({ description: 'Who does so; local if left out' });

export const acknowledgeSchema = z.strictObject({ by, note: freeText(1000).optional() }).meta({ id: 'Acknowledgement' });

export const unshelveSchema = z.strictObject({ by }).meta({ id: 'Unshelving' });

/** Most alarms that are named in one step. */
export const acknowledgedAtMost = 500;

export const acknowledgeManySchema = z
  .strictObject({
    ids: z.array(z.string().min(1).max(200)).min(1).max(acknowledgedAtMost).optional().meta({ description: 'These alarms' }),
    run: z.string().min(1).max(128).optional().meta({ description: 'All of a run, by its id' }),
    carriage: z.strictObject({ site: nameSchema, carriage: nameSchema }).optional().meta({ description: 'All of a carriage' }),
    cleared: z.boolean().optional().meta({ description: 'true: of these only the cleared ones' }),
    by,
    note: freeText(1000).optional(),
  })
  .refine(({ ids, run, carriage }) => [ids, run, carriage].filter((own) => own !== undefined).length === 1, { path: ['ids'], error: 'give exactly one of ids, run and carriage' })
  .meta({ id: 'AcknowledgementOfMany', oneOf: [{ required: ['ids'] }, { required: ['run'] }, { required: ['carriage'] }] });

export const shelveSchema = z
  .strictObject({
    until: z.union([z.number().meta({ minimum: 0 }), z.string().meta({ pattern: timePattern })]).meta({ description: 'Unix milliseconds or RFC 3339 text; later than now, by at most 24 h' }),
    reason: freeText(1000),
    by,
  })
  .meta({ id: 'Shelving' });
