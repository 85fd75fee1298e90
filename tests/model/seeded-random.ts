export interface Random {
  /** From 0 up to, not including, 1. */
  next: () => number;
  between: (low: number, high: number) => number;
  whole: (low: number, high: number) => number;
  chance: (share: number) => boolean;
  pick: <T>(values: readonly T[]) => T;
}

/** A small 32-bit generator (Weyl sequence and a mixing step); a seed gives the same run everywhere. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  };
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  return {
    next,
    whole,
    between: (low, high) => low + next() * (high - low),
    chance: (share) => next() < share,
    pick: (values) => {
      const value = values[whole(0, values.length - 1)];
      if (value === undefined) throw new RangeError('nothing to pick from');
      return value;
    },
  };
}
