/**
 * How far a figure's definition can be relied upon, by a letter and in words. It grades the definition (formula, limits, defaults), not the measurement.
 */
export const grades = {
  P: 'published: the text of the source was seen',
  X: 'exact: mathematics, from the definition of the quantity',
  C: 'common practice or a choice of this program: no source',
  M: 'from memory: the source is named but was not seen',
} as const;

export type Grade = keyof typeof grades;
export const gradeLetters = Object.keys(grades) as [Grade, ...Grade[]];

/** Where the value of an input comes from, in words. */
export const inputOrigins = {
  measured: 'sent by the carriage, or measured and entered',
  declared: 'declared with the job',
  procedure: 'from the revision of the procedure by which the run was welded',
  setting: 'default of the program, as neither job nor procedure gives it',
  computed: 'itself a figure of the run',
} as const;

export type InputOrigin = keyof typeof inputOrigins;
export const inputOriginNames = Object.keys(inputOrigins) as [InputOrigin, ...InputOrigin[]];
