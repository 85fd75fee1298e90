import type { Trace } from '../../../shared/api-types/trace.js';

/** The values of one quantity that are compared with its limits, along the axis of a trace; null where nothing was judged. */
export interface JudgedValues {
  readonly quantity: string;
  readonly arc: number | null;
  readonly at: readonly (number | null)[];
  readonly value: readonly (number | null)[];
  readonly min: readonly (number | null)[];
  readonly max: readonly (number | null)[];
}

export function judgedOf(trace: Trace & { readonly judged?: readonly JudgedValues[] | undefined }): readonly JudgedValues[] {
  return trace.judged ?? [];
}
