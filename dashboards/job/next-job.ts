import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';

/** kg of wire left on an arc's spools; null if that is not known. */
export interface WireLeft { readonly arc: number; readonly massLeft: number | null }

/** The highest run number that the API accepts. */
const highestRun = 9999;
/** kg. */
const gram = 0.001;

/**
 * The job that most often follows: the same seam, procedure and materials, and the next run number. Checks before arc start are left out, as they
 * are made each time. Null after the highest run number.
 */
export function nextJob(job: AssignmentAnswer, wire: readonly WireLeft[] = []): AssignmentAnswer | null {
  if (job.run >= highestRun) return null;
  const next = { ...withoutPast(job, wire), run: job.run + 1 };
  // What follows a series of turns goes on beyond its last run.
  if (next.lastRun !== undefined && next.lastRun < next.run) delete next.lastRun;
  return next;
}

/** The job without what belongs to the time it was given: when it began, and what was done and entered at the carriage since. */
export function withoutPast(job: AssignmentAnswer, wire: readonly WireLeft[] = []): AssignmentAnswer {
  const rest = { ...job };
  delete rest.time;
  delete rest.preparation;
  delete rest.materials;
  const flux = job.materials?.findLast((own) => own.kind === 'fluxRefilled' && own.lot !== null)?.lot ?? null;
  if (flux !== null) rest.fluxLot = flux;
  const lots = arcsOf(job);
  if (lots.length > 0) rest.arcs = lots.map((own) => withSpool(own, wire));
  return rest;
}

/** Each arc with the wire that was on it last. */
function arcsOf({ arcs = [], materials = [] }: AssignmentAnswer): NonNullable<AssignmentAnswer['arcs']> {
  const changed = new Map(materials.flatMap((own) => (own.kind === 'spoolChanged' && own.lot !== null ? [[own.arc ?? 1, own.lot] as const] : [])));
  const added = [...changed.keys()].filter((arc) => !arcs.some((own) => own.arc === arc)).map((arc) => ({ arc }));
  return [...arcs, ...added].map((own) => {
    const lot = changed.get(own.arc);
    return lot === undefined ? own : { ...own, wireLot: lot };
  });
}

/** The next run begins with the wire that the last one left on the spool; if nobody knows how much that is, it is left out. */
function withSpool(own: NonNullable<AssignmentAnswer['arcs']>[number], wire: readonly WireLeft[]): typeof own {
  const rest = { ...own };
  delete rest.spoolMass;
  const left = wire.find(({ arc }) => arc === own.arc)?.massLeft ?? null;
  return left === null || left < gram ? rest : { ...rest, spoolMass: Number(left.toFixed(3)) };
}

export function sameRun(one: AssignmentAnswer | null, other: AssignmentAnswer | null): boolean {
  return one !== null && other !== null && one.seam === other.seam && one.run === other.run;
}
