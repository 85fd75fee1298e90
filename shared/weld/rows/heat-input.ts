/** What an arc put in, J, over a length, mm. */
export interface ArcEnergy {
  readonly energy: number;
  readonly length: number;
}

/**
 * Heat input, kJ/mm: of each arc its energy over its length, added over the arcs (arcs that burn over different lengths then come out right), times the
 * thermal efficiency (EN 1011-1); 1 gives the arc energy. Not finite where an arc has no length.
 */
export function heatInput(arcs: readonly ArcEnergy[], thermalEfficiency: number): number {
  let perLength = 0;
  for (const { energy, length } of arcs) perLength += energy / length;
  return (perLength / 1e3) * thermalEfficiency;
}
