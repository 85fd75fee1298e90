import type { Assignment, Preparation } from './assignment.js';

/** An assignment as a carriage would send it: times in ms since 1970. */
export function assignmentPayload(assignment: Assignment): object {
  const { time, preparation, materials, ...rest } = assignment;
  return {
    ...rest,
    ...(preparation === undefined ? {} : { preparation: preparationPayload(preparation) }),
    ...(materials === undefined ? {} : { materials: materials.map((own) => ({ ...own, at: own.at / 1e3 })) }),
    ...(time === undefined ? {} : { time: time / 1e3 }),
  };
}

function preparationPayload({ at, confirmed, ...rest }: Preparation): object {
  return {
    ...rest,
    ...(at === undefined ? {} : { at: at / 1e3 }),
    ...(confirmed === undefined ? {} : { confirmed: confirmed.map((own) => ({ ...own, at: own.at / 1e3 })) }),
  };
}
