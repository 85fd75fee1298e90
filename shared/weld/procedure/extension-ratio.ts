/** Electrode extension over wire diameter: the limits, and what to begin with; common practice, no source. */
export const extensionRatio = { min: 6, start: 8, max: 10 } as const;

/** The limits for the extension of a wire of `diameter` mm. */
export function ratioLimits(diameter: number): { readonly min: number; readonly max: number } {
  return { min: clean(extensionRatio.min * diameter), max: clean(extensionRatio.max * diameter) };
}

/** Removes the rounding error of a product: 6 · 3.2 is then 19.2, and 19.2 lies within the limit. */
export function clean(value: number): number {
  return Number(value.toPrecision(12));
}
