import type { CarriagePlan } from './carriage-plan.js';
import { randomFrom, type Random } from './random.js';

/** The seam that a simulated run belongs to, and how the run lies on it. Lengths mm. Invented. */
export interface SeamPlan {
  readonly seam: string;
  readonly run: number;
  /** Null for a ring, which is as long as a turn. */
  readonly seamLength: number | null;
  readonly thickness: number;
  readonly side: number;
  readonly tab: number;
  /** The ring that turns under the carriage, and how far the run goes on beyond a full turn; null for a seam on flat plate. */
  readonly ring: { readonly diameter: number; readonly overlap: number } | null;
  readonly startOffset: number;
  readonly direction: 1 | -1;
  readonly datum: string;
  readonly wireLots: readonly string[];
  readonly fluxLot: string;
  /** kg of wire on the spool of each arc. */
  readonly spoolMasses: readonly number[];
  /** Whether everything was entered before arc start; if not, the baking of the flux is missing. */
  readonly prepared: boolean;
  /** What the first arc travels: both tabs and the seam between them, or a turn and its overlap. */
  readonly travel: number;
}

export const runsPerSeam = 2;
/** Length of each tab of a seam on flat plate, mm. */
const flatTab = 40;

/** Each seam takes two runs. On flat plate there is one from each side, and the second is welded back towards the datum; a ring is welded twice around. */
export function planSeam(plan: CarriagePlan, cycle: number): SeamPlan {
  const number = Math.floor(cycle / runsPerSeam);
  const run = (cycle % runsPerSeam) + 1;
  const random = randomFrom(plan.seed, 'seam', plan.index, number);
  const scarce = randomFrom(plan.seed, 'supplies', plan.index, cycle);
  const drawing = randomFrom(plan.seed, 'drawing').whole(1, 45) * 200;
  const flatLength = random.whole(18, 26) * 50;
  const ring = plan.ring ? planRing(randomFrom(plan.seed, 'ring', plan.index, number)) : null;
  const flat = { seamLength: flatLength, side: run, tab: flatTab, startOffset: run === 1 ? -flatTab : flatLength + flatTab, direction: run === 1 ? 1 : -1, travel: flatLength + 2 * flatTab } as const;
  return {
    // Each carriage has its own drawing number, as no two carriages weld the same seam.
    seam: `DK-${String(drawing + plan.index).padStart(4, '0')}/${ring === null ? 'L' : 'C'}${String(number + 1)}`,
    run,
    thickness: random.whole(9, 12) * 2,
    datum: `punch mark frame ${String(random.whole(1, 60))}`,
    wireLots: plan.arcs.map(() => `W-${String(random.whole(10000, 99999))}`),
    fluxLot: `F-${String(random.whole(1000, 9999))}`,
    // Now and then, a spool is nearly empty or an entry is forgotten.
    spoolMasses: plan.arcs.map(() => (scarce.between(0, 1) < 0.2 ? scarce.whole(10, 25) / 100 : scarce.whole(60, 240) / 10)),
    prepared: scarce.between(0, 1) < 0.5,
    ring,
    ...(ring === null ? flat : { seamLength: null, side: 1, tab: 0, startOffset: 0, direction: 1, travel: Math.PI * ring.diameter + ring.overlap }),
  };
}

/** A small shell ring: one turn takes about three minutes, so that it is seen whole in a demonstration. */
function planRing(random: Random): { diameter: number; overlap: number } {
  return { diameter: random.whole(9, 11) * 50, overlap: random.whole(8, 12) * 5 };
}
