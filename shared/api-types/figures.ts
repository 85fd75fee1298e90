import { z } from 'zod';
import { gradeLetters, grades, inputOriginNames, inputOrigins } from '../weld/figures/grades.js';
import type { FigureAnswer } from '../weld/figures/run-figure-answers.js';
import { figureSchema } from './common.js';

const listed = (words: Readonly<Record<string, string>>): string => Object.entries(words).map(([name, meaning]) => `${name}: ${meaning}`).join('; ');

const inputSchema = z.strictObject({
  name: z.string().meta({ description: 'As in the formula: letters and digits, a letter first' }),
  value: figureSchema,
  unit: z.string(),
  from: z.enum(inputOriginNames).meta({ description: listed(inputOrigins) }),
});

const figureAnswerSchema = z.strictObject({
  name: z.string().meta({ description: 'Path in the run; arcs by number, entries of other lists from 1 on: arcs.1.current.mean, restarts.1.overlap' }),
  value: figureSchema,
  unit: z.string().meta({ description: 'Empty for a ratio or a count' }),
  formula: z.string().nullable().meta({
    description: 'Infix of + - * / ^ ( ), numbers, pi, sqrt, exp, ln, abs, min, max and names of inputs, in the units given; with the inputs put in, it gives the value. null for a sum over samples, and where there is no value',
  }),
  inputs: z.array(inputSchema),
  method: z.string().meta({ description: 'How it is computed, in words, and how the samples were averaged in this run' }),
  source: z.string().meta({ description: 'What the definition rests on' }),
  grade: z.enum(gradeLetters).meta({ description: listed(grades) }),
  absent: z.string().nullable().meta({ description: 'Why there is no value; null where there is one' }),
}) satisfies z.ZodType<FigureAnswer>;

/** Every figure of a run with its formula, inputs, method and source. */
export const runFiguresSchema = z.strictObject({ items: z.array(figureAnswerSchema) }).meta({ id: 'RunFigures' });

export type RunFiguresAnswer = z.infer<typeof runFiguresSchema>;
export type RunFigureAnswer = RunFiguresAnswer['items'][number];
