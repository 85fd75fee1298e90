import type { WatchedExcursion } from './alarm-excursions.js';

/** What heat input follows from. */
const causes = ['current', 'voltage', 'travelSpeed'];

/**
 * Whether an alarm of heat input is suppressed once the row `upTo` is judged: whether the place up to which it reaches so far lies
 * in the stretch of an excursion of current, voltage or speed, or within half of `length` of it, which is how far the heat input
 * at a place feels what happens elsewhere. Where it waited for its off-delay, or does, that is where it came back. A cause that is withdrawn explains nothing.
 */
export function heatSuppression(
  excursions: readonly WatchedExcursion[],
  length: number,
  offsets: ReadonlyMap<number, number>,
  isWithdrawn: (cause: WatchedExcursion, upTo: number) => boolean,
): (alarm: WatchedExcursion, upTo: number) => boolean {
  const from = excursions.filter(({ series }) => causes.includes(series.quantity));
  return (alarm, upTo) => {
    const { series, limit, upper } = alarm;
    if (series.quantity !== 'heatInput') return false;
    const { min, max } = series.window;
    const inset = min === undefined || max === undefined ? Math.abs(limit) * 0.01 : (max - min) * series.deadband;
    const isBack = (value: number): boolean => (upper ? value <= limit - inset : value >= limit + inset);
    const judged = alarm.values.filter(({ judgedWith }) => judgedWith <= Math.min(upTo, alarm.endedWith));
    const last = judged.at(-1);
    if (last === undefined) return false;
    const back = judged[judged.findLastIndex(({ value }) => !isBack(value)) + 1];
    const { travelled, advance } = last.row.group.run;
    const reached = back?.row.group.run.travelled ?? travelled + advance;
    const heading = Math.sign(advance) || 1;
    return from.some((cause) => {
      if (cause.raisedWith > upTo || isWithdrawn(cause, upTo)) return false;
      const behind = cause.series.arc === null ? 0 : (offsets.get(cause.series.arc) ?? 0);
      const end = cause.endedWith <= upTo && cause.to !== null ? cause.to.travelled - behind : heading * Number.POSITIVE_INFINITY;
      return (cause.from.travelled - behind - reached) * heading <= length / 2 && (reached - end) * heading <= length / 2;
    });
  };
}
