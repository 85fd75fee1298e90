/** Going back by more than this is a new passage, mm; less is taken for jitter, as in `motion.ts`. */
const turning = 1;

/** Which passage of an arc over its seam is under way: it ends where the carriage turns. */
export interface Passage {
  number: number;
  /** 1 forward, −1 back, 0 not known yet. */
  direction: number;
  /** The furthest place reached in that direction, mm; NaN before the first. */
  furthest: number;
}

export function firstPassage(): Passage {
  return { number: 0, direction: 0, furthest: Number.NaN };
}

/** The arc burns from `from` to `to`. What it did before, in the dark too, shows in where it begins. */
export function pass(passage: Passage, from: number, to: number): void {
  if (Number.isNaN(passage.furthest)) passage.furthest = from;
  if ((passage.furthest - from) * passage.direction > turning) {
    // It came back in the dark: which way it will go is not known from that.
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
