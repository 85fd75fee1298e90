import type { Clock, Timers } from '../../services/ingest/clock.js';

export interface ClockByHand extends Clock, Timers {
  /** Lets `ms` pass, and does what becomes due on the way at its time. */
  pass(ms: number): void;
  /** Sets the wall clock `ms` ahead just before it is read for the `reading`th time from now, 0 being the next; returns whether that was. */
  setWhenRead(reading: number, ms: number): () => boolean;
}

interface Due {
  at: number;
  readonly every: number | null;
  readonly work: () => void;
}

/** Clocks that only move by `pass`; `wall` is ms since 1970. */
export function clockByHand(wall: number): ClockByHand {
  const begun = 1e12;
  let steady = begun;
  const waiting = new Set<Due>();
  let readings = 0;
  let set = { at: Infinity, ms: 0 };
  const put = (ms: number, every: number | null, work: () => void): (() => void) => {
    const own = { at: steady + ms * 1e3, every, work };
    waiting.add(own);
    return () => waiting.delete(own);
  };
  return {
    now: () => {
      if (readings === set.at) wall += set.ms;
      readings += 1;
      return wall * 1e3 + steady - begun;
    },
    steady: () => steady,
    after: (ms, work) => put(ms, null, work),
    every: (ms, work) => put(ms, ms, work),
    pass: (ms) => {
      const end = steady + ms * 1e3;
      for (;;) {
        let next: Due | null = null;
        for (const own of waiting) if (own.at <= end && (next === null || own.at < next.at)) next = own;
        if (next === null) break;
        steady = Math.max(steady, next.at);
        if (next.every === null) waiting.delete(next);
        else next.at += next.every * 1e3;
        next.work();
      }
      steady = end;
    },
    setWhenRead: (reading, ms) => {
      const at = readings + reading;
      set = { at, ms };
      return () => readings > at;
    },
  };
}
