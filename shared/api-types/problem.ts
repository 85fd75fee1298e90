import { z } from 'zod';

/** Problem details by RFC 9457. `errors` names each field that was wrong. */
export const problemSchema = z
  .strictObject({
    type: z.string(),
    title: z.string(),
    status: z.number().int().min(400).max(599),
    detail: z.string(),
    instance: z.string(),
    errors: z.array(z.strictObject({ field: z.string(), reason: z.string() })).optional(),
  })
  .meta({ id: 'Problem', description: 'Problem details, RFC 9457' });

export type Problem = z.infer<typeof problemSchema>;
