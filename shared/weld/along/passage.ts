/** Going back by more than this begins a new passage, mm; less counts as jitter, as in `motion.ts`. */
const turning = 1;

/** The current passage of an arc over its seam: it ends where the carriage turns. */
export interface Passage {
  number: number;
  /** 1 forward, −1 back, 0 not known yet. */
  direction: number;
  /** The furthest place reached in that direction, mm; NaN before the first place. */
  furthest: number;
}

export function firstPassage(): Passage {
  return { number: 0, direction: 0, furthest: Number.NaN };
}

/** The arc burns from `from` to `to`. Any movement before that, in the dark too, shows in where it begins. */
export function pass(passage: Passage, from: number, to: number): void {
  if (Number.isNaN(passage.furthest)) passage.furthest = from;
  if ((passage.furthest - from) * passage.direction > turning) {
    // It came back in the dark, so its next direction is not known yet.
    passage.number += 1;
    passage.direction = 0;
    passage.furthest = from;
  }
  const onward = to - passage.furthest;
  if (passage.direction === 0) {
    if (to !== from) passage.direction = Math.sign(to - from);
    passage.furthest = to;
  } else if (onward * passage.direction >= 0) {
    passage.furthest = to;
  } else if (-onward * passage.direction > turning) {
    passage.number += 1;
    passage.direction = -passage.direction;
    passage.furthest = to;
  }
}
