import type { Alarm } from '../../shared/api-types/alarm.js';
import { carriageState, type CarriageState } from './carriage-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { WindowsInForce } from './windows-in-force.js';
import type { MarkName } from './mark-name.js';
import { lastingAlarms, isOfLimits } from './standing-alarms.js';

/**
 * The first thing to say about a carriage. `outside`: an excursion lasts; `fault`: something else is wrong, such as a carriage that has stopped;
 * `silent`: it was welding and has fallen silent; `lost`: this page is not connected, so nothing is known about the carriage; `notJudged`: it welds without limits.
 */
export type Verdict = 'outside' | 'fault' | 'silent' | 'lost' | 'inside' | 'notJudged' | 'off' | 'offline';

export interface CarriageVerdict {
  readonly verdict: Verdict;
  readonly mark: MarkName;
  /** The most urgent active alarm, for `outside` and `fault`. */
  readonly alarm: Alarm | null;
  readonly state: CarriageState;
}

/** Whether something is wrong now. */
export function isWrong(verdict: Verdict): boolean {
  return verdict === 'outside' || verdict === 'fault' || verdict === 'silent';
}

/** A shape for each verdict, so that colour is never the only sign. */
export const verdictMarks: Readonly<Record<Verdict, MarkName>> = {
  outside: 'alert', fault: 'alert', silent: 'crossed', lost: 'crossed', inside: 'full', notJudged: 'half', off: 'empty', offline: 'crossed',
};

/** `connected`: whether this page would hear of the carriage. */
export function carriageVerdict(carriage: Carriage, at: number, connected: boolean): CarriageVerdict {
  const state = carriageState(carriage, at);
  const alarm = lastingAlarms(carriage.alarms)[0] ?? null;
  const verdict = connected ? (state.stale ? 'silent' : verdictOf(carriage, alarm)) : 'lost';
  return { verdict, mark: verdictMarks[verdict], alarm, state };
}

function verdictOf({ welding, online, windows }: Carriage, alarm: Alarm | null): Verdict {
  if (alarm !== null) return isOfLimits(alarm) ? 'outside' : 'fault';
  if (welding) return judges(windows) ? 'inside' : 'notJudged';
  return online === false ? 'offline' : 'off';
}

function judges(windows: WindowsInForce | null): boolean {
  if (windows === null) return false;
  const { arcs, travelSpeed, heatInput } = windows;
  return travelSpeed !== undefined || heatInput !== undefined || arcs.some(({ arc, ...own }) => arc > 0 && Object.values(own).some((window) => window !== undefined));
}
