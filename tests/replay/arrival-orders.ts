import type { Random } from '../model/seeded-random.js';

/** Orders of arrival that no shuffle of neighbours produces. */
const orders = ['newest first', 'halves swapped', 'blocks swapped', 'block by block backwards', 'any first', 'last first', 'odd, then even', 'shuffled', 'in order'] as const;

export type ArrivalOrder = (typeof orders)[number];

export function anyOrder(random: Random): ArrivalOrder {
  return random.pick(orders);
}

/** The list in that order; `random` decides wherever the order leaves a choice. */
export function arrangeAs<T>(order: ArrivalOrder, list: readonly T[], random: Random): T[] {
  const cut = random.whole(1, Math.max(1, list.length - 1));
  const size = random.whole(2, Math.max(2, Math.floor(list.length / 3)));
  const blocks = (): T[][] => Array.from({ length: Math.ceil(list.length / size) }, (_, at) => list.slice(at * size, (at + 1) * size));
  const first = (at: number): T[] => [...list.slice(at, at + 1), ...list.slice(0, at), ...list.slice(at + 1)];
  switch (order) {
    case 'newest first':
      return [...list].reverse();
    case 'halves swapped':
      return [...list.slice(cut), ...list.slice(0, cut)];
    case 'blocks swapped':
      return shuffle(blocks(), random).flat();
    case 'block by block backwards':
      return blocks().reverse().flat();
    case 'any first':
      return first(random.whole(0, list.length - 1));
    case 'last first':
      return first(list.length - 1);
    case 'odd, then even':
      return [...list.filter((_, at) => at % 2 === 1), ...list.filter((_, at) => at % 2 === 0)];
    case 'shuffled':
      return shuffle(list, random);
    case 'in order':
      return [...list];
  }
}

function shuffle<T>(list: readonly T[], random: Random): T[] {
  return list.map((own) => ({ own, at: random.between(0, 1) })).sort((a, b) => a.at - b.at).map(({ own }) => own);
}

/**
 * Boots are ordered as they were first seen. To keep that order, one item of each boot, whichever comes first, has to arrive before those of the next
 * boot.
 */
export function bootsAsSeen<T>(arriving: readonly T[], boots: readonly string[], bootOf: (own: T) => string): T[] {
  let rest = [...arriving];
  const leaders: T[] = [];
  const seen = [...new Set(arriving.map(bootOf))];
  if (seen.every((boot, at) => boot === boots[at])) return rest;
  for (const boot of boots) {
    const leader = rest.find((own) => bootOf(own) === boot);
    if (leader === undefined) continue;
    leaders.push(leader);
    rest = rest.filter((own) => own !== leader);
  }
  return [...leaders, ...rest];
}
