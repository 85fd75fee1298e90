/** A carriage that welded and has fallen silent. */
export interface Silent {
  readonly key: string;
  /** When it was heard last, ms since 1970. */
  readonly since: number;
}

/** Several carriages that fell silent together because of broker, network or power, rather than each for a reason of its own. */
export interface CommonCause {
  readonly keys: readonly string[];
  /** When the first of them was heard last, ms since 1970. */
  readonly since: number;
}

/** Carriages that fall silent within this time of each other may have a common cause, ms, unless they are fewer than this number or than this share of those at work. Common practice, no source. */
const together = 15_000;
const leastCount = 3;
const leastShare = 0.5;

/** The common cause of silent carriages, if there is one; `atWork` counts the carriages that weld or were welding when they fell silent. */
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
