import { z } from 'zod';

/** Problem details by RFC 9457. `errors` names each field that was wrong. */
export const problemSchema = z
  .strictObject({
    type: z.string(),
    title: z.string(),
    status: z.number().int().min(400).max(599),
    detail: z.string(),
    instance: z.string(),
    run: z.string().optional().meta({ description: 'Of a log that is stored already: the run that holds it' }),
    seam: z.string().nullable().optional(),
    runNumber: z.number().int().nullable().optional(),
    errors: z.array(z.strictObject({ field: z.string(), reason: z.string() })).optional(),
  })
  .meta({ id: 'Problem', description: 'Problem details, RFC 9457' });

export type Problem = z.infer<typeof problemSchema>;
