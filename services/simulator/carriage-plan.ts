import type { ArcSetting } from './arc.js';
import { randomFrom } from './random.js';

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
}

const simulatedSite = 'hall-a';
const tandemIndex = 2;

/** The carriage `index` (from 1) of a simulation: `c2` is a tandem, the others carry one arc. All of it is invented. */
export function planCarriage(index: number, seed: number): CarriagePlan {
  const random = randomFrom(seed, 'carriage', index);
  const tandem = index === tandemIndex;
  // Carriages of one type differ a little, as their settings do from shift to shift.
  const near = (value: number, share: number, decimals: number): number => Number((value * (1 + random.between(-share, share))).toFixed(decimals));
  const arc = (number: number, extension: number, current: number, voltage: number, droop: number, alternating = false): ArcSetting =>
    ({ arc: number, wireDiameter: 4, extension, current: near(current, 0.02, 0), voltage: near(voltage, 0.01, 1), droop, alternating });
  const arcs = tandem ? [arc(1, 32, 720, 31, 0.02), arc(2, 34, 580, 34, 0.03, true)] : [arc(1, 32, 610, 31.5, 0.02)];
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
  };
}
