import type { CarriagePlan } from './carriage-plan.js';
import { randomFrom } from './random.js';

/** The seam that a simulated run belongs to, and how the run lies on it. Lengths mm. Invented. */
export interface SeamPlan {
  readonly seam: string;
  readonly run: number;
  readonly seamLength: number;
  readonly thickness: number;
  readonly tab: number;
  readonly startOffset: number;
  readonly direction: 1 | -1;
  readonly datum: string;
  readonly wireLots: readonly string[];
  readonly fluxLot: string;
  /** kg of wire on the spool of each arc. */
  readonly spoolMasses: readonly number[];
  /** Whether everything was entered before arc start; if not, the baking of the flux is missing. */
  readonly prepared: boolean;
  /** What the first arc travels: both tabs and the seam between them. */
  readonly travel: number;
}

export const runsPerSeam = 2;

/** Each seam takes two runs, one from each side; the second is welded back towards the datum. */
export function planSeam(plan: CarriagePlan, cycle: number): SeamPlan {
  const number = Math.floor(cycle / runsPerSeam);
  const run = (cycle % runsPerSeam) + 1;
  const random = randomFrom(plan.seed, 'seam', plan.index, number);
  const scarce = randomFrom(plan.seed, 'supplies', plan.index, cycle);
  const drawing = randomFrom(plan.seed, 'drawing').whole(1, 45) * 200;
  const seamLength = random.whole(18, 26) * 50;
  const tab = 40;
  return {
    // Each carriage has its own drawing number, as no two carriages weld the same seam.
    seam: `DK-${String(drawing + plan.index).padStart(4, '0')}/L${String(number + 1)}`,
    run,
    seamLength,
    thickness: random.whole(9, 12) * 2,
    tab,
    startOffset: run === 1 ? -tab : seamLength + tab,
    direction: run === 1 ? 1 : -1,
    datum: `punch mark frame ${String(random.whole(1, 60))}`,
    wireLots: plan.arcs.map(() => `W-${String(random.whole(10000, 99999))}`),
    fluxLot: `F-${String(random.whole(1000, 9999))}`,
    // Now and then, a spool is nearly empty or an entry is forgotten.
    spoolMasses: plan.arcs.map(() => (scarce.between(0, 1) < 0.2 ? scarce.whole(10, 25) / 100 : scarce.whole(60, 240) / 10)),
    prepared: scarce.between(0, 1) < 0.5,
    travel: seamLength + 2 * tab,
  };
}
