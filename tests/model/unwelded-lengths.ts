import type { PlainAlarm } from './alarm-types.js';
import { placeAt } from './motion.js';
import type { RunParts } from './split-runs.js';
import type { PlainStream } from './zoned-rows.js';

/** A shorter length does not count as unwelded, mm: computed places are no more accurate. */
const leastUnwelded = 0.05;

/** The length that each restart left unwelded, from the restart until the run is over; its place is where the arc had stopped. */
export function unweldedLengths(stream: PlainStream, run: RunParts, isOver: boolean): PlainAlarm[] {
  const origin = placeAt(stream.moves, Math.min(...run.burns.map(({ from }) => from))).position;
  const ended = Math.max(...run.burns.map(({ to }) => to)) + stream.base;
  return run.burns.flatMap((burn) => {
    const before = run.burns.filter(({ arc, from }) => arc === burn.arc && from < burn.from).sort((a, b) => b.from - a.from)[0];
    if (before === undefined || !burn.lit) return [];
    const stopped = placeAt(stream.moves, before.to).position - origin;
    const overlap = stopped - (placeAt(stream.moves, burn.from).position - origin);
    if (overlap >= -leastUnwelded) return [];
    const time = burn.from + stream.base;
    const since = { time, travelled: stopped };
    return [{ arc: burn.arc, quantity: 'overlap', limit: 0, worst: overlap, since, raisedAt: time, returnedAt: isOver ? ended : null, withdrawn: false, suppressed: false }];
  });
}
