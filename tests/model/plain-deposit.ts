import type { PlainArc, PlainDeposit, PlainProcedure, Segment } from './plain-types.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { sum } from './weighted.js';

const minutes = ({ start, end }: Segment): number => (end - start) / 60_000_000;

/** g of steel in each m of one wire: π/4·d² in cm², 100 cm, 7.85 g/cm³. */
export const gramsPerMetre = (diameter: number): number => (Math.PI / 4) * (diameter / 10) ** 2 * 100 * 7.85;

/** Wire diameter of an arc, mm: that of the assignment, else the procedure's. */
export function diameterOf(arc: number, assignment: Assignment | null, procedure: PlainProcedure): number | null {
  return assignment?.arcs?.find((own) => own.arc === arc)?.wireDiameter ?? procedure.wires.get(arc)?.diameter ?? null;
}

/** m of feed of an arc; null unless every value that it held while on came with a feed. */
function fed(segments: readonly Segment[]): number | null {
  const held = segments.filter(({ start, end }) => end > start);
  return held.some(({ wireFeedSpeed }) => wireFeedSpeed === null) ? null : sum(held.map((own) => (own.wireFeedSpeed ?? 0) * minutes(own)));
}

interface Welded {
  readonly arcs: readonly PlainArc[];
  readonly segmentsOf: (arc: number) => readonly Segment[];
  readonly assignment: Assignment | null;
  readonly procedure: PlainProcedure;
  /** Time in which any arc was on, s. */
  readonly arcTime: number;
  /** Whether the run has an arc energy, without which nothing is given per length. */
  readonly perLength: boolean;
}

export function plainDeposit({ arcs, segmentsOf, assignment, procedure, arcTime, perLength }: Welded): PlainDeposit {
  const parts = arcs.map(({ arc, length }) => {
    const feed = fed(segmentsOf(arc));
    const diameter = diameterOf(arc, assignment, procedure);
    const { count = 1, recovery = 1 } = procedure.wires.get(arc) ?? {};
    const grams = feed === null || diameter === null ? null : feed * gramsPerMetre(diameter) * count;
    return { feed, wire: grams, metal: grams === null ? null : grams * recovery, length };
  });
  const total = (values: readonly (number | null)[]): number | null => (values.includes(null) ? null : sum(values.map((value) => value ?? 0)));
  const wire = total(parts.map((own) => own.wire));
  const metal = total(parts.map((own) => own.metal));
  const each = total(parts.map((own) => (own.metal === null ? null : own.length === null || own.length === 0 ? 0 : own.metal / own.length)));
  return {
    wireLength: total(parts.map(({ feed }) => feed)),
    wireMass: wire === null ? null : wire / 1000,
    mass: metal === null ? null : metal / 1000,
    rate: metal === null || arcTime === 0 ? null : metal / 1000 / (arcTime / 3600),
    // g/mm are kg/m
    massPerLength: perLength ? each : null,
    fluxMass: metal === null ? null : (metal / 1000) * procedure.fluxRatio,
  };
}
