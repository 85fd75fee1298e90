import type { Carriage } from '../../shared/api-types/carriage.js';

/** How far the run has come and has to go, mm, and when it ends, ms; null if that is not known. */
export interface RunEnd {
  /** The way from the start, whichever way the carriage counts. */
  readonly done: number | null;
  /** From start to end with both tabs: what is done and what is to go. */
  readonly whole: number | null;
  readonly toGo: number | null;
  readonly endsAt: number | null;
}

/** The outlook's end is by the clock of the carriage; what people read is by the clock of the service. */
export function runEnd({ outlook, travelled, clockOffset }: Pick<Carriage, 'outlook' | 'travelled' | 'clockOffset'>): RunEnd {
  const done = travelled === null ? null : Math.abs(travelled);
  const toGo = outlook?.lengthToGo ?? null;
  const endsAt = outlook?.endsAt == null ? null : Date.parse(outlook.endsAt) + (clockOffset ?? 0) * 1000;
  // Past its end, nothing says how long the run was meant to be.
  return { done, whole: done === null || toGo === null || toGo === 0 ? null : done + toGo, toGo, endsAt };
}
