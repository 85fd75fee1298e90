import type { TraceAxis } from '../../shared/weld/along/thin-trace.js';
import { degreesAt, degreesOf } from '../../shared/weld/procedure/seam-degrees.js';

type Column = readonly (number | null)[];

/** A column of places with the same in degrees, beside it under the name that fits the axis; null under the other, and where the seam is no circumference. */
export function withDegrees<Columns extends { readonly at: Column }>(columns: Columns, axis: TraceAxis, circumference: number | null): Columns & { readonly degrees: (number | null)[] | null; readonly seamDegrees: (number | null)[] | null } {
  const along = circumference === null || axis === 'time' ? null : columns.at.map((place) => degreesAt(place, circumference));
  return { ...columns, degrees: axis === 'travelled' ? along : null, seamDegrees: axis === 'seamPosition' ? along : null };
}

/** A profile with its places in degrees. */
export function profileDegrees<Columns extends { readonly travelled: readonly number[]; readonly seamPosition: readonly number[] }>(columns: Columns, circumference: number | null): Columns & { readonly degrees: number[] | null; readonly seamDegrees: number[] | null } {
  const round = (places: readonly number[]): number[] | null => (circumference === null ? null : places.map((place) => degreesOf(place, circumference)));
  return { ...columns, degrees: round(columns.travelled), seamDegrees: round(columns.seamPosition) };
}
