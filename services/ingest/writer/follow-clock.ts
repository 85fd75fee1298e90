import { stepInWords, type FollowedClock } from './followed-clock.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';
import { shiftMarks } from '../fold/shift-marks.js';
import type { StreamMemory } from './stream-memory.js';

/** How long the alarm lasts that says that the clock was set, µs. */
const toldFor = 60_000_000;

export interface ClockFollower {
  /** Within a transaction: adjusts everything to a clock that was set, and returns by how much, µs. */
  follow(): number;
  /** Within a transaction: ends the alarm when it has lasted long enough. */
  end(): void;
  endIsDue(): boolean;
}

/** Keeps every age what it was when the wall clock is set. */
export function clockFollower(clock: FollowedClock, streams: StreamMemory, alarms: ServiceAlarms): ClockFollower {
  const { fold } = streams;
  let toldAt: number | null = null;
  const endIsDue = (): boolean => toldAt !== null && fold.steady() - toldAt >= toldFor;
  return {
    follow() {
      const step = clock.step();
      if (step === 0) return 0;
      for (const carriage of streams.all.values()) {
        shiftMarks(carriage, step, fold);
        if (carriage.outbox.flushAt < Infinity) streams.woken.add(carriage);
      }
      fold.changes.clockSteps.push(step);
      const words = `the clock of this machine was set ${stepInWords(step)}, or the machine slept: times before and after that do not fit together`;
      streams.log('warn', words);
      alarms.end('serviceClock');
      alarms.raise('serviceClock', words);
      toldAt = fold.steady();
      return step;
    },
    end() {
      if (!endIsDue()) return;
      toldAt = null;
      alarms.end('serviceClock');
    },
    endIsDue,
  };
}
