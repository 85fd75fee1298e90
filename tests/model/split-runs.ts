import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { ArcState } from './arc-state.js';
import { eraAt, type Era } from './eras.js';
import type { Burn, Gap, Segment } from './plain-types.js';

export interface RunParts {
  readonly key: string | null;
  readonly attempt: number;
  /** Whether it was lit too far from where the attempt before had ended. */
  readonly litElsewhere: boolean;
  assignment: Assignment | null;
  readonly burns: Burn[];
  readonly gaps: Gap[];
}

/** Cuts the lightings of one arc where another assignment begins to apply. */
function burnsOf(arc: number, state: ArcState, eras: readonly Era[]): Burn[] {
  const burns: Burn[] = [];
  for (const { lit, out, segments } of state.lightings) {
    const parts = new Map<number, Segment[]>();
    for (const segment of segments) {
      const era = eraAt(eras, segment.index);
      const part = parts.get(era);
      if (part === undefined) parts.set(era, [segment]);
      else part.push(segment);
    }
    const entries = [...parts];
    entries.forEach(([era, part], i) => {
      const to = part.at(-1)?.end ?? lit;
      const first = i === 0;
      const last = i === entries.length - 1;
      burns.push({ arc, era, from: first ? lit : (part[0]?.start ?? lit), to, lit: first, out: last && out !== null, segments: part });
    });
  }
  return burns;
}

/** Encoder distance beyond which lighting an arc is not a restart (rules, section 4), mm. */
const elsewhere = 300;

/** Whether a burn begins in the dark of a run and, by the encoder, further from where its last arc went out than a restart may. */
function isElsewhere(run: RunParts, burn: Burn, travelAt: (time: number) => number | null): boolean {
  const until = Math.max(...run.burns.map(({ to }) => to));
  if (!burn.lit || burn.from <= until) return false;
  const stopped = travelAt(until);
  const lit = travelAt(burn.from);
  return stopped !== null && lit !== null && Math.abs(lit - stopped) > elsewhere + 1e-6;
}

/** The runs of a carriage in the order in which they begin. `travelAt` gives the encoder's value. */
export function splitRuns(arcs: ReadonlyMap<number, ArcState>, eras: readonly Era[], settings: WeldSettings, travelAt: (time: number) => number | null): RunParts[] {
  const burns = [...arcs].flatMap(([arc, state]) => burnsOf(arc, state, eras));
  burns.sort((a, b) => a.from - b.from || a.arc - b.arc);
  const gaps = [...arcs.values()].flatMap((state) => state.gaps);
  const runs: RunParts[] = [];
  let lastAssigned: RunParts | null = null;
  let lastKey: string | null = null;
  eras.forEach((era, number) => {
    if (era.key !== null && era.key !== lastKey) {
      // there was another assignment in between: a return to an earlier seam and run is a new attempt
      lastKey = era.key;
      lastAssigned = null;
    }
    let current: RunParts | null = era.key === null ? null : lastAssigned;
    let burningUntil = Number.NEGATIVE_INFINITY;
    for (const burn of burns.filter((candidate) => candidate.era === number)) {
      const ended = era.key === null && burn.from - burningUntil > settings.unassignedRunEndAfter;
      const litElsewhere = current !== null && !ended && isElsewhere(current, burn, travelAt);
      if (current === null || ended || litElsewhere) {
        const attempt = era.key === null ? 1 : 1 + runs.filter((run) => run.key === era.key).length;
        current = { key: era.key, attempt, litElsewhere, assignment: era.assignment, burns: [], gaps: [] };
        runs.push(current);
      }
      current.burns.push(burn);
      current.gaps.push(...gaps.filter((gap) => gap.arc === burn.arc && gap.from >= burn.from && gap.to <= burn.to));
      current.assignment = era.assignment;
      burningUntil = Math.max(burningUntil, burn.to);
    }
    if (era.key !== null && current !== null) lastAssigned = current;
  });
  return runs;
}
