import type { Alternation } from './alternation.js';
import type { ArcSetting } from './arc.js';
import { randomFrom } from './random.js';
import { usualEvents, type EventKind } from './run-event.js';

/** The properties of a simulated carriage that stay the same for as long as it plays. */
export interface CarriagePlan {
  /** From 1. */
  readonly index: number;
  readonly site: string;
  readonly carriage: string;
  readonly seed: number;
  readonly procedure: string;
  readonly arcs: readonly ArcSetting[];
  /** Distance of each arc behind the first, mm, in the order of `arcs`. */
  readonly offsets: readonly number[];
  /** Set travel speed, mm/min. */
  readonly travelSpeed: number;
  /** Device clock minus true time, ms, constant. */
  readonly clockOffset: number;
  /** Temperature of the hall, °C. */
  readonly ambient: number;
  readonly operator: string;
  /** What happens in its runs, in turn, and the place in this list at which it begins. */
  readonly events: readonly EventKind[];
  readonly firstEvent: number;
  /** Whether the work turns under the carriage: its seams are rings of one turn each. */
  readonly ring: boolean;
}

const simulatedSite = 'hall-a';
/** The mains, Hz. */
export const mains = 50;
const tandemIndex = 2;

/** The carriage `index` (from 1) of a simulation: `c2` is a tandem, the others carry one arc. All of it is invented. */
export function planCarriage(index: number, seed: number): CarriagePlan {
  return planOfType(index === tandemIndex ? 'tandem' : 'single', index, seed);
}

/** A carriage of one of two types, with the usual events. Its settings follow from its index and the seed. */
export function planOfType(type: 'single' | 'tandem', index: number, seed: number): CarriagePlan {
  const tandem = type === 'tandem';
  const random = randomFrom(seed, 'carriage', index);
  // Carriages of one type differ a little, as their settings do from shift to shift.
  const near = (value: number, share: number, decimals: number): number => Number((value * (1 + random.between(-share, share))).toFixed(decimals));
  const arc = (number: number, extension: number, current: number, voltage: number, droop: number, alternation: Alternation | null = null): ArcSetting =>
    ({ arc: number, wireDiameter: 4, extension, current: near(current, 0.02, 0), voltage: near(voltage, 0.01, 1), droop, alternation });
  const arcs = tandem ? [arc(1, 32, 720, 31, 0.02), arc(2, 34, 580, 34, 0.03, { shape: 'square', frequency: mains, lag: 0 })] : [arc(1, 32, 610, 31.5, 0.02)];
  return {
    index,
    site: simulatedSite,
    carriage: `c${String(index)}`,
    seed,
    procedure: tandem ? 'SIM-2' : 'SIM-1',
    arcs,
    offsets: tandem ? [0, 70] : [0],
    travelSpeed: near(tandem ? 850 : 520, 0.03, 0),
    clockOffset: random.whole(-1500, 1500),
    ambient: random.whole(14, 23),
    operator: `op-${String(random.whole(1, 19)).padStart(2, '0')}`,
    events: usualEvents,
    // Each begins with another.
    firstEvent: index - 1 + seed + 4,
    ring: false,
  };
}
