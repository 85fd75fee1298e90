import type { Assignment } from './assignment.js';

/** An assignment as a carriage would send it: times in ms since 1970. */
export function assignmentPayload(assignment: Assignment): object {
  const { time, preparation, ...rest } = assignment;
  return {
    ...rest,
    ...(preparation === undefined ? {} : { preparation: preparation.at === undefined ? preparation : { ...preparation, at: preparation.at / 1e3 } }),
    ...(time === undefined ? {} : { time: time / 1e3 }),
  };
}
