import { z } from 'zod';
import { plainCodes, type Absence } from '../weld/run/absence.js';
import { spreadNames } from '../weld/quantities.js';
import { freeText } from './free-text.js';

/** RFC 3339 in UTC with milliseconds, as every time in an answer. */
export const timeSchema = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/, 'must be RFC 3339 in UTC with milliseconds')
  .meta({ format: 'date-time', description: 'RFC 3339, UTC, with milliseconds' });

/** A figure, or null if it cannot be given. */
export const figureSchema = z.number().nullable();

/** Why a figure is null, by the figure's name. */
export const absentSchema = z.record(z.string(), z.string());

/** Why a figure is missing, as a code with its values: lengths mm, intervals ms. */
export const absenceSchema = z.discriminatedUnion('code', [
  z.strictObject({ code: z.enum(plainCodes) }),
  z.strictObject({ code: z.enum(['shorter', 'weldZoneShorter']), length: z.number() }),
  z.strictObject({ code: z.literal('arcStanding'), arc: z.number().int() }),
  z.strictObject({ code: z.enum(['feedUnknown', 'diameterUnknown']), arcs: z.array(z.number().int()).readonly() }),
  z.strictObject({ code: z.enum(['notSent', 'notSentLately']), quantity: z.enum(spreadNames) }),
  z.strictObject({ code: z.literal('tooSlow'), source: z.enum(['readings', 'blocks', 'both']), interval: z.number() }),
  z.strictObject({ code: z.literal('procedureUnknown'), procedure: z.string() }),
  z.strictObject({ code: z.literal('coolingUnknown'), missing: z.array(z.enum(['thickness', 'temperature'])).readonly() }),
  z.strictObject({ code: z.literal('plateTooHot'), temperature: z.number() }),
]) satisfies z.ZodType<Absence>;

export const reasonsSchema = z.record(z.string(), absenceSchema).optional().meta({ description: 'The same as absent, by codes; left out of runs stored before this field existed' });

/** A site or a carriage, as in MQTT topics. */
export const nameSchema = z.string().regex(/^[A-Za-z0-9_-]{1,64}$/, 'must be 1 to 64 characters of A-Z a-z 0-9 _ -');

/** One text in each of the languages that the pages speak. */
export const actionTextsSchema = z.strictObject({ en: freeText(200).optional(), zh: freeText(200).optional() });

export const arcNumberSchema = z.number().int().min(1).max(6);

/** Rows of a list with the cursor of the next page, or null on the last one. */
export function listSchema<T extends z.ZodType>(item: T): z.ZodObject<{ items: z.ZodArray<T>; next: z.ZodNullable<z.ZodString>; unreadable: z.ZodOptional<z.ZodNumber> }> {
  return z.strictObject({
    items: z.array(item),
    next: z.string().nullable(),
    unreadable: z.number().int().min(1).optional().meta({ description: 'How many of this page were left out, since a damaged store no longer gives their records' }),
  });
}
