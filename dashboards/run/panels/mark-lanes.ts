/** Something that takes room in a lane, CSS px, including the text beside it. */
export interface LaneBlock { readonly left: number; readonly right: number }

export interface LanePlace {
  readonly lane: number;
  /** Another block overlaps this one because all lanes are full, so nothing can be written. */
  readonly crowded: boolean;
}

/** The most lanes there are; what finds no room in them is put into the last one. */
const mostLanes = 4;

/** The lane of each block, given in the order of their left ends, so that blocks do not overlap as long as there are free lanes. */
export function lanesOf(blocks: readonly LaneBlock[]): LanePlace[] {
  const ends: number[] = [];
  return blocks.map(({ left, right }) => {
    const free = ends.findIndex((end) => end <= left);
    const crowded = free < 0 && ends.length >= mostLanes;
    const lane = free >= 0 ? free : crowded ? mostLanes - 1 : ends.length;
    ends[lane] = Math.max(ends[lane] ?? 0, right);
    return { lane, crowded };
  });
}
