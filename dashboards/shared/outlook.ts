import type { Carriage } from '../../shared/api-types/carriage.js';

/** How far the run has to go, mm, and when it ends, ms; null where that cannot be told. */
export interface RunEnd {
  readonly toGo: number | null;
  readonly endsAt: number | null;
}

/** The outlook's end is by the clock of the carriage; what people read is by the clock of the service. */
export function runEnd({ outlook, clockOffset }: Pick<Carriage, 'outlook' | 'clockOffset'>): RunEnd {
  if (outlook === null) return { toGo: null, endsAt: null };
  return { toGo: outlook.lengthToGo, endsAt: outlook.endsAt === null ? null : Date.parse(outlook.endsAt) + (clockOffset ?? 0) * 1000 };
}
