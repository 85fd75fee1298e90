import type { AlarmProcedure } from './alarm-types.js';
import { seededRandom } from './seeded-random.js';

/** The feed that a carriage sends, by arc number; null where it sends none. */
export interface RandomFeed {
  readonly procedure: AlarmProcedure;
  readonly at: (arc: number) => number | null;
}

/** How often the feed is sent: always, in four of five messages, or never. */
const shares = [1, 1, 1, 0.8, 0] as const;

/**
 * A feed within wide limits that does or does not go with the current, for one scenario in two. It draws from a generator of its own, so that all other
 * values of a seed stay as they were.
 */
export function randomFeed(seed: number, procedure: AlarmProcedure): RandomFeed {
  const random = seededRandom(seed + 9_000_000);
  if (random.chance(0.5)) return { procedure, at: () => null };
  const feeds = new Map<number, { readonly value: number; readonly share: number }>();
  const runGroups = procedure.runGroups.map((group) => ({
    ...group,
    arcs: (group.arcs ?? []).map((own) => {
      const middle = random.pick([0.9, 1.2, 2.4]);
      feeds.set(own.arc, { value: middle * random.between(0.75, 1.3), share: random.pick(shares) });
      const wireFeedSpeed = random.chance(0.85) ? { min: middle * 0.6, max: middle * 1.4 } : { min: middle * 0.6 };
      return { ...own, wireFeedSpeed };
    }),
  }));
  return {
    procedure: { ...procedure, runGroups },
    at: (arc) => {
      const feed = feeds.get(arc);
      return feed === undefined || !random.chance(feed.share) ? null : feed.value * random.between(0.99, 1.01);
    },
  };
}
