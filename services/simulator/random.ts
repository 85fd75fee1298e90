/** A stream of pseudo-random numbers that depends on nothing but what it was made from. */
export interface Random {
  /** Uniform in [from, to). */
  between(from: number, to: number): number;
  /** Whole number, uniform in [from, to]. */
  whole(from: number, to: number): number;
  /** Mean 0, standard deviation 1, close to normal and never beyond ±3.47. */
  normal(): number;
}

/**
 * The stream that belongs to these parts, e.g. `(seed, 'carriage', 3)`. Generator: sfc32 (Chris Doty-Humphrey,
 * PractRand), 32-bit integer arithmetic throughout, so that every machine draws the same numbers.
 */
export function randomFrom(...parts: readonly (string | number)[]): Random {
  const seed = hashed(parts.join('\u0000'));
  let a = seed;
  let b = 0x9e3779b9;
  let c = 0x243f6a88;
  let counter = 1;
  const draw = (): number => {
    const sum = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return (sum >>> 0) / 4294967296;
  };
  // The generator's author discards the first outputs so that the seed reaches all of the state.
  for (let warmUp = 0; warmUp < 15; warmUp += 1) draw();
  return {
    between: (from, to) => from + (to - from) * draw(),
    whole: (from, to) => from + Math.floor((to - from + 1) * draw()),
    // The sum of four uniforms has variance 1/3. Bounded on purpose: a rare draw must not leave what a sensor can show.
    normal: () => (draw() + draw() + draw() + draw() - 2) * 1.7320508075688772,
  };
}

/** FNV-1a over UTF-16 code units, 32 bits. */
function hashed(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  }
  return hash | 0;
}
