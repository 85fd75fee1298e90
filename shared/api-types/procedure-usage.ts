import { z } from 'zod';

const count = z.number().int().min(0);

/** How many runs were welded to a procedure, all revisions together and one by one; a revision that none was welded to is not listed. */
export const procedureUsageSchema = z
  .strictObject({ runs: count, revisions: z.array(z.strictObject({ revision: z.number().int().min(1), runs: count })) })
  .meta({ id: 'ProcedureUsage' });

export type ProcedureUsage = z.infer<typeof procedureUsageSchema>;
