/** The two clocks of the machine, µs. Durations are measured by the steady one; the wall clock may be set by anybody. */
export interface Clock {
  /** Since 1970, by the machine's wall clock. */
  readonly now: () => number;
  /** Since a time long before the process began; it never goes back and never jumps. */
  readonly steady: () => number;
}

export interface Timers {
  /** Calls `work` once after `ms`, or in the next turn of the loop for 0. The function it returns cancels the call. */
  readonly after: (ms: number, work: () => void) => CallOff;
  readonly every: (ms: number, work: () => void) => CallOff;
}

export type CallOff = () => void;

/** Puts 0 far enough in the past to mean "long ago", µs. */
const beforeStart = 1e12;

/** Except for its sockets, ingest learns the time only from here. */
export const systemClock: Clock & Timers = {
  now: () => Date.now() * 1e3,
  steady: () => beforeStart + performance.now() * 1e3,
  after: (ms, work) => {
    if (ms > 0) {
      const timer = setTimeout(work, ms);
      return () => { clearTimeout(timer); };
    }
    const soon = setImmediate(work);
    return () => { clearImmediate(soon); };
  },
  every: (ms, work) => {
    const timer = setInterval(work, ms);
    return () => { clearInterval(timer); };
  },
};
