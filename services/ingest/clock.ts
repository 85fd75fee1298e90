/** The two clocks of the machine, µs. What lasts is measured by the steady one; the other may be set by anybody. */
export interface Clock {
  /** Since 1970, as the machine has it. */
  readonly now: () => number;
  /** From a time long before the process began, never back and never by leaps. */
  readonly steady: () => number;
}

export interface Timers {
  /** Calls `work` once in so many ms, in the next turn of the loop for 0. What it returns calls that off. */
  readonly after: (ms: number, work: () => void) => CallOff;
  readonly every: (ms: number, work: () => void) => CallOff;
}

export type CallOff = () => void;

/** So that 0 lies far enough back to mean "long ago", µs. */
const beforeStart = 1e12;

/** Nothing of ingest but its sockets knows the time otherwise. */
export const systemClock: Clock & Timers = {
  now: () => Date.now() * 1e3,
  steady: () => beforeStart + performance.now() * 1e3,
  after: (ms, work) => {
    if (ms > 0) {
      const timer = setTimeout(work, ms);
      return () => {
        clearTimeout(timer);
      };
    }
    const soon = setImmediate(work);
    return () => {
      clearImmediate(soon);
    };
  },
  every: (ms, work) => {
    const timer = setInterval(work, ms);
    return () => {
      clearInterval(timer);
    };
  },
};
