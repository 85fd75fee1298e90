import { z } from 'zod';
import { actionTextsSchema, arcNumberSchema, timeSchema } from './common.js';
import { alarmedNames, arcLimitNames, quantities, runLimitNames, type ArcLimitName, type RunLimitName } from '../weld/quantities.js';
import { recordOf } from '../weld/rows/record-of.js';
import { freeText } from './free-text.js';

const text = freeText(200);
const positive = z.number().positive();

export const procedureIdSchema = z.string()
  .regex(/^[A-Za-z0-9_-][A-Za-z0-9._-]{0,63}$/, 'must be 1 to 64 characters of A-Z a-z 0-9 . _ -, not starting with a dot');

/** The lowest and highest value that is allowed; either end may be absent, not both. */
function window(value: z.ZodNumber) {
  return z.strictObject({ min: value.optional(), max: value.optional() })
    .refine((own) => own.min !== undefined || own.max !== undefined, { error: 'needs min, max or both', path: [] })
    .refine((own) => own.min === undefined || own.max === undefined || own.min <= own.max, { error: 'min must not be above max', path: ['min'] })
    .meta({ description: 'min, max or both; min must not be above max', anyOf: [{ required: ['min'] }, { required: ['max'] }] });
}

function windowOf(name: ArcLimitName | RunLimitName) {
  const { limits } = quantities[name];
  const value = z.number().min(limits.least);
  return window('greatest' in limits ? value.max(limits.greatest) : value).optional();
}

const procedureArcSchema = z.strictObject({
  arc: arcNumberSchema,
  currentType: z.enum(['DC', 'AC']).optional(),
  polarity: z.enum(['EP', 'EN']).optional(),
  wireDiameter: positive.optional(),
  wireClassification: text.optional().meta({ description: 'Wire, or wire and flux, by ISO 14171 or the standard that is used' }),
  wires: z.number().int().min(1).max(6).optional(),
  recovery: z.number().positive().max(1).optional().meta({ description: 'Share of the melted wire that becomes weld metal; 1 where it is left out, and 0.98 to 1.0 for submerged arc' }),
  offset: z.number().optional().meta({ description: 'mm behind arc 1' }),
  ...recordOf(arcLimitNames, windowOf),
});

const runGroupSchema = z.strictObject({
  name: text.optional(),
  side: z.number().int().min(1).max(2).optional(),
  runs: z.array(z.number().int().min(1).max(9999)).min(2).max(2)
    .refine(([first, last]) => first === undefined || last === undefined || first <= last, { error: 'the first run must not be after the last' })
    .meta({ description: 'First and last run number covered; the first must not be after the last' }),
  arcs: z.array(procedureArcSchema).max(6)
    .refine((arcs) => new Set(arcs.map((own) => own.arc)).size === arcs.length, { error: 'each arc number may occur only once' })
    .optional()
    .meta({ description: 'Each arc number at most once' }),
  ...recordOf(runLimitNames, windowOf),
  shapeFactors: z.strictObject({ f2: positive.optional(), f3: positive.optional() }).optional()
    .meta({ description: 'Shape factors of the cooling time t8/5 for two- and three-dimensional heat flow (EN 1011-2, table D.1); 1, as for a run on a plate, where absent' }),
});

const alarmWindowSchema = z.strictObject({
  priority: z.enum(['high', 'medium', 'low']).optional(),
  response: text.optional().meta({ description: 'What the operator is to do' }),
  responses: actionTextsSchema.optional().meta({ description: 'The same for pages in these languages; where a language is missing, `response` is shown' }),
});

const alarmSchema = z.strictObject({
  smoothing: z.number().min(0).max(60).optional(),
  onDelay: z.number().min(0).max(600).optional(),
  offDelay: z.number().min(0).max(600).optional(),
  deadband: z.number().min(0).max(0.5).optional(),
  heatInputLength: z.number().min(1).max(10_000).optional(),
  ignitionTime: z.number().min(0).max(600).optional(),
  ignitionLength: z.number().min(0).max(10_000).optional(),
  craterTime: z.number().min(0).max(600).optional(),
  windows: z.strictObject(recordOf(alarmedNames, () => alarmWindowSchema.optional())).optional(),
});

const content = {
  title: text.optional(),
  process: text.optional(),
  thermalEfficiency: z.number().positive().max(1).optional(),
  fluxRatio: positive.optional().meta({ description: 'kg of flux per kg of weld metal; 1 where it is left out' }),
  qualificationRecord: text.optional(),
  weldingPosition: text.optional(),
  parentMaterial: text.optional().meta({ description: 'Designation and standard of the parent material' }),
  parentMaterialGroup: text.optional().meta({ description: 'Group by ISO/TR 15608' }),
  thickness: window(positive).optional().meta({ description: 'Parent material thickness covered, mm' }),
  outsideDiameter: window(positive).optional().meta({ description: 'Outside diameter of pipes and shells covered, mm' }),
  jointType: text.optional().meta({ description: 'Joint design' }),
  jointPreparation: text.optional().meta({ description: 'Groove, root gap, cleaning' }),
  backing: text.optional(),
  fluxClassification: text.optional().meta({ description: 'Flux by ISO 14174 or the standard that is used' }),
  runGroups: z.array(runGroupSchema).max(100).optional(),
  alarm: alarmSchema.optional(),
};

const reason = freeText(500).optional().meta({ description: 'Why the revision was made' });
const by = freeText(100).optional().meta({ description: 'Who says so; local where nobody is named' });

/** A procedure as it is kept; terms of ISO 15609-1. Current A, voltage V, wire feed speed m/min, travel speed mm/min, lengths mm, times s, heat input kJ/mm, temperatures °C. */
export const procedureBodySchema = z.strictObject({ id: procedureIdSchema, ...content, reason });

/** A new procedure as it is posted. */
export const procedureRequestSchema = z.strictObject({ id: procedureIdSchema, ...content, reason, by }).meta({ id: 'NewProcedure' });

/** A further revision as it is posted: complete; if it repeats the id, it is that of the path. */
export const revisionRequestSchema = z.strictObject({ id: procedureIdSchema.optional(), ...content, reason, by }).meta({ id: 'NewRevision' });

/** A revision of a procedure as answers give it. */
export const procedureSchema = z
  .strictObject({ id: procedureIdSchema, ...content, reason, revision: z.number().int().min(1), createdAt: timeSchema, by: z.string() })
  .meta({ id: 'Procedure' });

export type ProcedureBody = z.infer<typeof procedureBodySchema>;
export type Procedure = z.infer<typeof procedureSchema>;
