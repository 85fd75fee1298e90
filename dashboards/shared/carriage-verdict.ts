import type { Alarm } from '../../shared/api-types/alarm.js';
import { carriageState, type CarriageState } from './carriage-state.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { judgedArcNames } from '../../shared/weld/quantities.js';
import { quantityWord, shownAs } from './alarm-sentence.js';
import type { WindowsInForce } from './window-place.js';
import type { MarkName } from './mark-name.js';
import { lastingAlarms, isOfLimits } from './standing-alarms.js';
import { shown } from './units.js';
import { verdictWords } from './verdict-words.js';
import { capital } from './words.js';

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

/** The word of a verdict; a fault is named by what is wrong. */
export function verdictText({ verdict, alarm }: CarriageVerdict): string {
  const say = verdictWords();
  if (verdict !== 'fault') return say[verdict];
  const quantity = alarm?.quantity ?? '';
  if (quantity === 'noData' || quantity === 'travelStopped' || quantity === 'polarity' || quantity === 'overlap' || quantity === 'feedMismatch') return say[quantity];
  return capital(quantityWord(quantity));
}

/** The newest value of the alarm's quantity; null if there is none. Heat input is judged along the seam, so it is that of the newest stretch. */
export function newestValue(carriage: Carriage, { quantity, arc }: Pick<Alarm, 'quantity' | 'arc'>): number | null {
  if (quantity === 'travelSpeed') return carriage.travelSpeed;
  if (quantity === 'heatInput') return carriage.localHeatInput;
  const name = judgedArcNames.find((own) => own === quantity);
  return name === undefined ? null : (carriage.arcs.find((one) => one.arc === arc)?.[name] ?? null);
}

/**
 * "1.2 V above": how far the newest value lies beyond the limit that was crossed. If the value is back inside (during its off-delay) or not known, how far
 * the worst one lay: "at worst 1.2 V above". Null if the alarm has no limit.
 */
export function howFarOut(carriage: Carriage, alarm: Alarm): string | null {
  const { limit, worst } = alarm;
  const name = shownAs(alarm.quantity);
  if (limit === null || worst === null || name === null) return null;
  const say = verdictWords();
  const above = worst > limit;
  const value = newestValue(carriage, alarm);
  const isOut = value !== null && (above ? value > limit : value < limit);
  const by = shown(name, Math.abs((isOut ? value : worst) - limit));
  const text = above ? say.above(by) : say.below(by);
  return isOut ? text : say.atWorst(text);
}
