/** The energy of an arc, J, over a length, mm. */
export interface ArcEnergy {
  readonly energy: number;
  readonly length: number;
}

/**
 * Heat input, kJ/mm: each arc's energy over its length, added over the arcs (so that arcs which burn over different lengths come out right), times
 * the thermal efficiency (EN 1011-1); 1 gives the arc energy. Not finite where an arc has no length.
 */
export function heatInput(arcs: readonly ArcEnergy[], thermalEfficiency: number): number {
  let perLength = 0;
  for (const { energy, length } of arcs) perLength += energy / length;
  return (perLength / 1e3) * thermalEfficiency;
}
