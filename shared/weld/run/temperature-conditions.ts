import type { Moment } from '../judging/excursion-track.js';
import { outsideChecks, type TemperatureCheck } from '../temperatures/temperature-checks.js';
import type { AlarmCondition } from './alarm-conditions.js';
import type { RunState } from './run-state.js';

/**
 * The conditions for a plate that was too hot or too cold when the run began: they last until it is over. `known` is when that was known, for the alarm of a
 * measurement that was entered later.
 */
export function temperatureConditions({ start, lastOn, sums }: RunState, checks: readonly TemperatureCheck[], known: Moment | null, finished: boolean): AlarmCondition[] {
  const from = { time: start, travelled: 0 };
  const to = finished ? { time: lastOn, travelled: sums.travelled } : null;
  return outsideChecks(checks).map(({ quantity, limit, worst }) => ({ arc: null, quantity, limit, worst, from, raised: known ?? from, to, lostTo: null, suppressed: false }));
}
