import type { Carriage } from '../../shared/api-types/carriage.js';

/** What newer services tell of a run that was begun far from where the last one went out; an older one leaves it out. */
export type CarriageNow = Carriage & {
  readonly litElsewhere?: boolean | undefined;
  readonly runStartedAt?: string | null | undefined;
  readonly arcOutSince?: string | null | undefined;
};
