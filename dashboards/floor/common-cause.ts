/** A carriage that welded and is heard no more. */
export interface Silent {
  readonly key: string;
  /** When it was heard last, ms since 1970. */
  readonly since: number;
}

/** Several carriages that fell silent together: broker, network or power, and not each of them by itself. */
export interface CommonCause {
  readonly keys: readonly string[];
  /** When the first of them was heard last, ms since 1970. */
  readonly since: number;
}

/** Carriages that fall silent within this time of each other may have a cause in common, ms. Fewer than so many, or than that share of those at work, are no such case. Common practice, no source. */
const together = 15_000;
const leastCount = 3;
const leastShare = 0.5;

/** The cause that silent carriages have in common, if they have; `atWork` counts those that weld or welded when they fell silent. */
export function commonCause(silent: readonly Silent[], atWork: number): CommonCause | null {
  const inOrder = [...silent].sort((a, b) => a.since - b.since);
  let most: readonly Silent[] = [];
  let from = 0;
  inOrder.forEach(({ since }, at) => {
    while (since - (inOrder[from]?.since ?? since) > together) from += 1;
    if (at + 1 - from > most.length) most = inOrder.slice(from, at + 1);
  });
  const [first] = most;
  if (first === undefined || most.length < leastCount || most.length < atWork * leastShare) return null;
  return { keys: most.map(({ key }) => key), since: first.since };
}
