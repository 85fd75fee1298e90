import type { Assignment } from './assignment.js';

/** The work that turns under a carriage: only its `motion` and `diameter` count. */
export type TurningWork = Pick<Assignment, 'motion' | 'diameter'> | null;

/** The length of a full turn at the surface at which the speed is measured, mm: π × `diameter`; null where the work does not turn. */
export function circumferenceOf(work: TurningWork): number | null {
  return work?.motion === 'work' && work.diameter !== undefined ? Math.PI * work.diameter : null;
}

/** mm along a circumference in degrees, never modulo 360; null where there is no place, or the seam is no circumference. */
export function degreesAt(place: number | null, circumference: number | null): number | null {
  return place === null || circumference === null ? null : degreesOf(place, circumference);
}

/** The same where both are known. */
export function degreesOf(place: number, circumference: number): number {
  return (360 * place) / circumference;
}

/** How far a run went round, in degrees and turns (not rounded), and what lies beyond a full turn, mm. */
export interface Circumference {
  readonly diameter: number;
  readonly degrees: number;
  readonly turns: number;
  readonly overlap: number;
}

/** The circumference of a run of a `length` (mm, absolute travel with its arcs on, gaps included) round work with a full turn of `turn` mm; exact. */
export function circumferenceOver(length: number, turn: number): Circumference {
  const degrees = degreesOf(length, turn);
  return { diameter: turn / Math.PI, degrees, turns: degrees / 360, overlap: Math.max(0, length - turn) };
}
