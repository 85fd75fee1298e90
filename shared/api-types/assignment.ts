import { z } from 'zod';
import { materialKinds, preparationEntries, type Assignment, type Preparation } from '../weld/procedure/assignment.js';
import { isPrintable } from '../weld/decode/printable.js';
import { arcNumberSchema, timeSchema } from './common.js';
import { latestMilliseconds, maybeTimePattern, printablePattern, timePattern } from './described-text.js';
import { freeText } from './free-text.js';

const fluxFields = { dried: z.boolean().optional(), temperature: z.number().optional(), hours: z.number().optional() };

const confirmedFields = { entry: z.enum(preparationEntries), arc: arcNumberSchema.nullable(), value: z.union([z.boolean(), z.number(), z.string()]), by: z.string() };
const confirmedMeta = { description: 'What somebody at the carriage entered or confirmed; anything not listed, or with another value now, came with the assignment' };

const materialFields = {
  kind: z.enum(materialKinds),
  arc: arcNumberSchema.nullable().meta({ description: 'Of a spool; null for flux' }),
  lot: z.string().nullable(),
  mass: z.number().nullable().meta({ description: 'kg on the new spool, or of flux filled in' }),
  travelled: z.number().nullable().meta({ description: 'Where on the run, mm travelled' }),
  melted: z.number().nullable().meta({ description: 'm of each wire of the arc that the run had melted by then' }),
  by: z.string(),
};
const materialsMeta = { description: 'Changes of wire and flux during the run, oldest first' };

const preparationFields = {
  surfaceCleaned: z.boolean().optional(),
  flux: z.strictObject(fluxFields).optional().meta({ description: 'How it was dried: °C, hours; its lot is fluxLot' }),
  polarityChecked: z.boolean().optional(),
  trackParallel: z.boolean().optional().meta({ description: 'The track lies parallel to the seam' }),
  preheatMeasured: z.number().optional().meta({ description: '°C, measured immediately before the run' }),
  by: z.string().optional(),
};

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
  turnIsRun: z.boolean().optional().meta({ description: 'Each full turn of the work ends the run and begins the next run number' }),
  lastRun: z.number().int().optional().meta({ description: 'The run that no turn ends' }),
  preheat: z.number().optional(),
  operator: z.string().optional(),
  arcs: z
    .array(
      z.strictObject({
        arc: arcNumberSchema, wireDiameter: z.number().optional(), electrodeExtension: z.number().optional(),
        wireLot: z.string().optional(),
        spoolMass: z.number().optional().meta({ description: 'kg of wire on the spools of the arc when the run begins' }),
      }),
    )
    .optional(),
  fluxLot: z.string().optional(),
  materials: z.array(z.strictObject({ ...materialFields, at: timeSchema })).optional().meta(materialsMeta),
  preparation: z.strictObject({ ...preparationFields, at: timeSchema.optional(), confirmed: z.array(z.strictObject({ ...confirmedFields, at: timeSchema })).optional().meta(confirmedMeta) }).optional().meta({ description: 'Checks made before arc start, as entered' }),
  simulated: z.boolean().optional(),
};

/** An assignment as answers give it: the fields that were sent, `time` as text. */
export const assignmentSchema = z.strictObject({ ...fields, time: timeSchema.optional() });

export type AssignmentAnswer = z.infer<typeof assignmentSchema>;

/** The API form of an assignment: lengths mm, temperatures °C, `time` as RFC 3339 text. */
export function assignmentAnswer(assignment: Assignment): AssignmentAnswer {
  const { time, arcs, preparation, materials, ...rest } = assignment;
  return {
    ...rest,
    ...(preparation === undefined ? {} : { preparation: preparationAnswer(preparation) }),
    ...(materials === undefined ? {} : { materials: materials.map((own) => ({ ...own, at: isoText(own.at) })) }),
    ...(arcs === undefined ? {} : { arcs: arcs.map((arc) => ({ ...arc })) }),
    ...(time === undefined ? {} : { time: isoText(time) }),
  };
}

function preparationAnswer({ at, flux, confirmed, ...rest }: Preparation): AssignmentAnswer['preparation'] {
  return {
    ...rest,
    ...(confirmed === undefined ? {} : { confirmed: confirmed.map((own) => ({ ...own, at: isoText(own.at) })) }),
    ...(flux === undefined ? {} : { flux: { ...flux } }),
    ...(at === undefined ? {} : { at: isoText(at) }),
  };
}

function isoText(time: number): string {
  return new Date(Math.round(time / 1000)).toISOString();
}

/** `checkAssignment` decides what is accepted; here its texts and times are described. */
const word = z.string().max(128).meta({ pattern: printablePattern(0, 128) }).nullable().optional();
const requiredWord = z.string().min(1).max(128).meta({ pattern: printablePattern(1, 128) });
const milliseconds = z.number().min(0).meta({ maximum: latestMilliseconds });
const number = (low: number, high: number): z.ZodOptional<z.ZodNullable<z.ZodNumber>> => z.number().min(low).max(high).nullable().optional();
const above = (low: number, high: number): z.ZodOptional<z.ZodNullable<z.ZodNumber>> => z.number().gt(low).max(high).nullable().optional();

/** Each arc number at most once. */
const givenArcs = z
  .array(
    z.strictObject({
      arc: arcNumberSchema, wireDiameter: above(0, 20), electrodeExtension: above(0, 1000), wireLot: word, spoolMass: above(0, 5000),
    }),
  )
  .max(6)
  .nullable()
  .optional();

const yesOrNo = z.boolean().nullable().optional();
const timeGiven = z.union([milliseconds, z.string().meta({ pattern: maybeTimePattern })]).nullable().optional()
  .meta({ description: 'Unix milliseconds or RFC 3339 text, from 1970 to 2106' });

const momentGiven = z.union([milliseconds, z.string().meta({ pattern: timePattern })]).meta({ description: 'Unix milliseconds or RFC 3339 text, from 1970 to 2106' });
const nullableMaterial = {
  kind: materialFields.kind, arc: arcNumberSchema.nullable().optional(), lot: word, mass: above(0, 5000), travelled: number(-1e7, 1e7),
  melted: number(0, 1e5), by: requiredWord,
};

const saidBy = z.string().min(1).max(100).refine((text) => isPrintable(text, 100), { error: 'must be 1 to 100 printable characters' }).optional().meta({ pattern: printablePattern(1, 100), description: 'Who enters it; local if left out' });

/** An entry of the preparation; null if it is cleared. */
const enteredFields = {
  surfaceCleaned: yesOrNo,
  flux: z.strictObject({ dried: yesOrNo, temperature: number(0, 1000), hours: number(0, 168) }).nullable().optional(),
  polarityChecked: yesOrNo, trackParallel: yesOrNo, preheatMeasured: number(-100, 1500),
};

/** An assignment as it is sent: null counts as absent. Its limits are those of `checkAssignment`, which has the last word. */
export const assignmentRequestSchema = z
  .strictObject({
    seam: requiredWord,
    run: z.number().int().min(1).max(9999),
    time: timeGiven,
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
    diameter: number(1, 1e6),
    turnIsRun: z.boolean().nullable().optional().meta({ description: 'Each full turn of the work ends the run and begins the next run number; motion must be work' }),
    lastRun: z.number().int().min(1).max(9999).nullable().optional().meta({ description: 'With turnIsRun: the run that no turn ends, at least run' }),
    preheat: number(-100, 1500),
    operator: word,
    arcs: givenArcs,
    fluxLot: word,
    preparation: z
      .strictObject({ ...enteredFields, by: word, at: timeGiven, confirmed: z.array(z.strictObject({ ...confirmedFields, value: z.union([z.boolean(), z.number(), requiredWord]), by: requiredWord, arc: arcNumberSchema.nullable().optional(), at: momentGiven })).meta({ maxItems: 64 }).nullable().optional().meta(confirmedMeta) })
      .nullable()
      .optional(),
    materials: z.array(z.strictObject({ ...nullableMaterial, at: momentGiven })).meta({ maxItems: 200 }).nullable().optional().meta(materialsMeta),
    simulated: z.boolean().nullable().optional(),
    by: saidBy,
    reason: freeText(1000).optional().meta({ description: 'Why it is given or corrected' }),
  })
  .meta({
    id: 'NewAssignment',
    allOf: [
      { if: { properties: { motion: { const: 'work' } }, required: ['motion'] }, then: { properties: { diameter: { type: 'number' } }, required: ['diameter'] } },
      { if: { properties: { turnIsRun: { const: true } }, required: ['turnIsRun'] }, then: { properties: { motion: { const: 'work' } }, required: ['motion'] } },
      { if: { properties: { lastRun: { type: 'integer' } }, required: ['lastRun'] }, then: { properties: { turnIsRun: { const: true } }, required: ['turnIsRun'] } },
    ],
  });

/** Entries of the preparation, merged into the assignment in force: an entry left out stays, null clears it. */
export const preparationRequestSchema = z
  .strictObject({
    seam: freeText(128).optional().meta({ description: 'With run: refused if another assignment is in force' }),
    run: z.number().int().min(1).max(9999).optional(),
    ...enteredFields,
    fluxLot: word,
    arcs: givenArcs.meta({ description: 'For each arc listed, the fields given' }),
    by: saidBy,
  })
  .meta({ id: 'PreparationEntries' });

export type PreparationEntries = z.infer<typeof preparationRequestSchema>;

/** A change of wire or flux at a carriage, added to the assignment in force. */
export const materialRequestSchema = z
  .strictObject({
    seam: freeText(128).optional().meta({ description: 'With run: refused if another assignment is in force' }),
    run: z.number().int().min(1).max(9999).optional(),
    kind: materialFields.kind,
    arc: arcNumberSchema.nullable().optional().meta({ description: 'Of a spool; 1 if left out' }),
    lot: word,
    mass: above(0, 5000).meta({ description: 'kg on the new spool, or of flux filled in' }),
    travelled: number(-1e7, 1e7).meta({ description: 'mm travelled; where the carriage is now if left out' }),
    by: saidBy,
  })
  .meta({ id: 'MaterialChange' });

export type MaterialEntry = z.infer<typeof materialRequestSchema>;
