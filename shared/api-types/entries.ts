import { z } from 'zod';
import { optionalNames, requiredNames } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { assignmentSchema } from './assignment.js';
import { arcNumberSchema, timeSchema } from './common.js';

/** A message or item that could not be used. `size` in bytes of what came, `head` its first bytes as text. */
export const refusedSchema = z
  .strictObject({
    id: z.string(),
    receivedAt: timeSchema,
    topic: z.string(),
    reason: z.string(),
    size: z.number().int(),
    head: z.string().meta({ description: 'First bytes, read as UTF-8; what is not UTF-8 shows as U+FFFD' }),
  })
  .meta({ id: 'Refused' });

const valuesSchema = z.union([z.number(), z.array(z.number())]);

/** An item that came too late to change its run, in external units. */
export const lateSchema = z
  .strictObject({
    id: z.string(),
    receivedAt: timeSchema,
    boot: z.string().nullable(),
    seq: z.number().int().nullable(),
    arc: arcNumberSchema,
    time: timeSchema.nullable(),
    item: z.strictObject({
      interval: z.number().nullable(), samples: z.number().int(), ...recordOf(requiredNames, () => valuesSchema),
      ...recordOf(optionalNames, () => valuesSchema.nullable()),
    }),
  })
  .meta({ id: 'LateItem' });

/** What became of an imported log: counts are of items, `line` is that of the file from 1. */
export const importAnswerSchema = z
  .strictObject({
    runs: z.array(z.string()),
    stored: z.number().int(),
    duplicate: z.number().int(),
    lines: z.number().int().meta({ description: 'Lines of the log with something in them, its header left out' }),
    refusedLines: z.number().int().meta({ description: 'How many lines were refused' }),
    refused: z.array(z.strictObject({ line: z.number().int(), reason: z.string() })).meta({ description: 'The first 1000 of them' }),
    also: z
      .array(
        z.strictObject({
          reason: z.enum(['sameLog', 'sameTime']), run: z.string(), site: z.string(), carriage: z.string(), seam: z.string().nullable(), runNumber: z.number().int().nullable(),
        }),
      )
      .meta({ description: 'Runs of the same log under another carriage, and of the same carriage at the same time; they stay as they are' }),
  })
  .meta({ id: 'ImportAnswer' });

export type Refused = z.infer<typeof refusedSchema>;
export type LateItem = z.infer<typeof lateSchema>;

/** One change of the assignment of a run or of its carriage while the run went on. */
export const jobChangeSchema = z
  .strictObject({
    id: z.string(),
    at: timeSchema,
    by: z.string().meta({ description: 'Who changed it; local where nobody was named' }),
    reason: z.string().nullable(),
    before: assignmentSchema.nullable(),
    after: assignmentSchema.nullable(),
  })
  .meta({ id: 'JobChange' });

export type JobChange = z.infer<typeof jobChangeSchema>;
