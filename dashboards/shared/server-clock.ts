/** Bounds of server time minus browser time, ms. */
interface Bounds { readonly low: number; readonly high: number }

export interface ServerClock {
  readonly since: number;
  readonly now: Bounds;
  /** Bounds of the previous span, so that there are always some; older ones are forgotten, as clocks drift. */
  readonly before: Bounds;
}

const open: Bounds = { low: -Infinity, high: Infinity };
const span = 60_000;

export function startServerClock(at: number): ServerClock {
  return { since: at, now: open, before: open };
}

/**
 * Takes into account that the server's clock showed a time between `least` and `greatest` at some moment between the browser's
 * `from` and `to`. Bounds that contradict the older ones win, as then one of the clocks was set.
 */
export function hearServerTime(clock: ServerClock, heard: { readonly least: number; readonly greatest: number; readonly from: number; readonly to: number }): ServerClock {
  const fresh: Bounds = { low: heard.least - heard.to, high: heard.greatest - heard.from };
  const aged = heard.to - clock.since > span ? { since: heard.to, now: open, before: clock.now } : clock;
  const both = narrowed(aged.now, aged.before);
  if (fresh.low > both.high || fresh.high < both.low) return { since: heard.to, now: fresh, before: open };
  return { ...aged, now: narrowed(aged.now, fresh) };
}

/** Server time, ms since 1970, when the browser's clock shows `at`. It never runs ahead, as no message arrives before it was sent. */
export function serverTime(clock: ServerClock, at: number): number {
  const { low } = narrowed(clock.now, clock.before);
  return Number.isFinite(low) ? at + low : at;
}

function narrowed(a: Bounds, b: Bounds): Bounds {
  const bounds = { low: Math.max(a.low, b.low), high: Math.min(a.high, b.high) };
  return bounds.low <= bounds.high ? bounds : a;
}
