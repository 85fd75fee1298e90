import { z } from 'zod';
import type { Assignment } from '../weld/assignment.js';
import { arcNumberSchema, timeSchema } from './common.js';

const fields = {
  seam: z.string(),
  run: z.number().int(),
  procedure: z.string().optional(),
  purpose: z.enum(['production', 'testPiece', 'repair', 'tack']).optional(),
  seamLength: z.number().optional(),
  thickness: z.number().optional(),
  side: z.number().int().optional(),
  datum: z.string().optional(),
  startOffset: z.number().optional(),
  direction: z.union([z.literal(1), z.literal(-1)]).optional(),
  runOn: z.number().optional(),
  runOff: z.number().optional(),
  motion: z.enum(['carriage', 'work']).optional(),
  diameter: z.number().optional(),
  preheat: z.number().optional(),
  operator: z.string().optional(),
  arcs: z
    .array(
      z.strictObject({
        arc: arcNumberSchema,
        wireDiameter: z.number().optional(),
        electrodeExtension: z.number().optional(),
        wireLot: z.string().optional(),
      }),
    )
    .optional(),
  fluxLot: z.string().optional(),
  simulated: z.boolean().optional(),
};

/** An assignment as answers give it: the fields that were sent, `time` as text. */
export const assignmentSchema = z.strictObject({ ...fields, time: timeSchema.optional() });

export type AssignmentAnswer = z.infer<typeof assignmentSchema>;

/** The API form of an assignment: lengths mm, temperatures °C, `time` as RFC 3339 text. */
export function assignmentAnswer(assignment: Assignment): AssignmentAnswer {
  const { time, arcs, ...rest } = assignment;
  return {
    ...rest,
    ...(arcs === undefined ? {} : { arcs: arcs.map((arc) => ({ ...arc })) }),
    ...(time === undefined ? {} : { time: new Date(Math.round(time / 1000)).toISOString() }),
  };
}

const word = z.string().max(128).nullable().optional();
const number = (low: number, high: number): z.ZodOptional<z.ZodNullable<z.ZodNumber>> => z.number().min(low).max(high).nullable().optional();
const above = (low: number, high: number): z.ZodOptional<z.ZodNullable<z.ZodNumber>> => z.number().gt(low).max(high).nullable().optional();

/** An assignment as it is sent: null counts as absent. Its limits are those of `checkAssignment`, which has the last word. */
export const assignmentRequestSchema = z
  .strictObject({
    seam: z.string().min(1).max(128),
    run: z.number().int().min(1).max(9999),
    time: z
      .union([z.number().min(0), z.string()])
      .nullable()
      .optional()
      .meta({ description: 'Unix milliseconds or RFC 3339 text, from 1970 to 2106' }),
    procedure: word,
    purpose: z.enum(['production', 'testPiece', 'repair', 'tack']).nullable().optional(),
    seamLength: above(0, 1e7),
    thickness: above(0, 1000),
    side: z.number().int().min(1).max(9).nullable().optional(),
    datum: word,
    startOffset: number(-1e7, 1e7),
    direction: z.union([z.literal(1), z.literal(-1)]).nullable().optional(),
    runOn: number(0, 1e5),
    runOff: number(0, 1e5),
    motion: z.enum(['carriage', 'work']).nullable().optional(),
    diameter: above(0, 1e6),
    preheat: number(-100, 1500),
    operator: word,
    arcs: z
      .array(
        z.strictObject({
          arc: arcNumberSchema,
          wireDiameter: above(0, 20),
          electrodeExtension: above(0, 1000),
          wireLot: word,
        }),
      )
      .max(6)
      .nullable()
      .optional(),
    fluxLot: word,
    simulated: z.boolean().nullable().optional(),
    by: z.string().min(1).max(100).optional().meta({ description: 'Who says so; local where nobody is named' }),
  })
  .meta({ id: 'NewAssignment' });
