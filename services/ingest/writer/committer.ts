import { emptyChangeSet } from '../../../shared/records/change-set.js';
import { runDueWork, type PublishRetained } from './run-due-work.js';
import { foldFor } from './commit-budget.js';
import { commitPipeline } from './commit-pipeline.js';
import type { ClockFollower } from './follow-clock.js';
import type { RecorderOptions } from './recorder-options.js';
import { refoldInTurn } from './refold-turns.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';
import { gatherNewestAlarms } from './gather-alarms.js';
import { errorOf } from '../store/store-writer.js';
import type { StreamAccess } from './stream-access.js';

export type Outcome<Result> = { readonly result: Result } | { readonly error: Error };

/** Computes commits and passes them to the writer, one after the other. */
export interface Committer {
  /** Makes one commit, which is stored when this returns; flooding carriages are folded for `most` ms. */
  now<Result>(work: () => Result, refolds?: typeof refoldInTurn, most?: number): Outcome<Result>;
  /**
   * Makes one commit, computed while the one before is still being written. `over` is called once, perhaps later: with null as soon as it is stored,
   * or with the reason why it is not. If the one before fails, this one fails too, and its `over` is called first.
   */
  ahead(work: () => void, over: (failure: Error | null) => void): void;
  /** Waits for the commit that is being written. */
  finish(): void;
  /** Calls `event` once the commit that is being computed is stored. */
  tell(event: () => void): void;
  publishLater: PublishRetained;
}

export interface CommitterParts {
  readonly streams: StreamAccess;
  readonly traces: { forgetAll(): void };
  readonly alarms: ServiceAlarms;
  readonly follower: ClockFollower;
  /** The clock was set: moves the time since which the service has been listening. */
  readonly shiftListening: (by: number) => void;
}

export function committer(options: RecorderOptions, parts: () => CommitterParts): Committer {
  const { store, counters, clock } = options;
  const pipeline = commitPipeline(store.writer, options.stillStored ?? (() => undefined));
  /** The events to be sent once the commit that is being computed is stored. */
  let events: (() => void)[] = [];
  const steady = (): number => clock.steady() / 1e3;

  /** Folds again what has to be, from the store as the last commit left it; then does `work`, and whatever is due. */
  function compute<Result>(work: () => Result, refolds: typeof refoldInTurn, most: number): Outcome<Result> {
    const { streams, alarms, follower, shiftListening } = parts();
    const { fold } = streams;
    events = [];
    fold.changes = emptyChangeSet();
    try {
      shiftListening(follower.follow());
      gatherNewestAlarms(streams);
      const foldedAgain = refolds(streams, steady());
      const result = work();
      runDueWork(streams, publishLater, most, foldedAgain);
      if (alarms.isDue()) events.push(alarms.save(fold.changes));
      return { result };
    } catch (thrown) {
      return { error: errorOf(thrown) };
    }
  }

  /** A failed commit leaves nothing behind: memory is built again from what is stored. */
  function forgetMemory(): void {
    const { streams, traces } = parts();
    streams.forgetAll();
    traces.forgetAll();
  }

  function write(begun: number, over: (failure: Error | null) => void): void {
    const told = events;
    pipeline.begin(parts().streams.fold.changes, (failure) => {
      if (failure === null) {
        counters.add('commits', 1);
        counters.add('commitMicroseconds', Math.round((steady() - begun) * 1e3));
        for (const event of told) event();
      } else forgetMemory();
      over(failure);
    });
  }

  function tell(event: () => void): void {
    events.push(event);
  }

  function publishLater(topic: string, payload: string): void {
    tell(() => { options.publish(topic, payload, true); });
  }

  return {
    now(work, refolds = refoldInTurn, most = foldFor) {
      const before = pipeline.finish();
      if (before !== null) return { error: before };
      const begun = steady();
      let outcome = compute(work, refolds, most);
      if ('error' in outcome) {
        forgetMemory();
        return outcome;
      }
      write(begun, (failure) => {
        if (failure !== null) outcome = { error: failure };
      });
      pipeline.finish();
      return outcome;
    },
    ahead(work, over) {
      const begun = steady();
      const outcome = compute(work, refoldInTurn, foldFor);
      const before = pipeline.failure();
      if (before === null && 'result' in outcome) {
        write(begun, over);
        return;
      }
      // The commit before it is not stored, or this one cannot be computed.
      if (before !== null) over(before);
      pipeline.finish();
      if (before !== null || !('error' in outcome)) return;
      forgetMemory();
      over(outcome.error);
    },
    finish: () => void pipeline.finish(),
    tell,
    publishLater,
  };
}
