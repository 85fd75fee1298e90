/** The two clocks of the machine, µs. What lasts is measured by the steady one; the other may be set by anybody. */
export interface Clock {
  /** Since 1970, as the machine has it. */
  readonly now: () => number;
  /** From a time long before the process began, never back and never by leaps. */
  readonly steady: () => number;
}

/** So that 0 lies far enough back to mean "long ago", µs. */
const beforeStart = 1e12;

export const systemClock: Clock = {
  now: () => Date.now() * 1e3,
  steady: () => beforeStart + performance.now() * 1e3,
};
