import type { Alarm, AlarmState } from '../../shared/api-types/alarm.js';
import { alarmedNames } from '../../shared/weld/quantities.js';
import { alarmWords } from './alarm-words.js';
import { serverNow } from './now.js';
import { formatAge, formatClock } from './times.js';
import { decimalsOf, formatNumber, inUnit, isShownQuantity, shown, unitOf, type ShownQuantity } from './units.js';
import { capital } from './words.js';

/** What an alarm may name that is not a quantity with limits. */
export const conditions = ['noData', 'travelStopped', 'polarity', 'overlap', 'feedMismatch', 'sequence', 'storage', 'broker', 'serviceClock', 'carriages'] as const;

/** The quantities that windows and alarms are named by, those of the windows first. */
const alarmQuantities = [...alarmedNames, ...conditions] as const;
type AlarmQuantity = (typeof alarmQuantities)[number];

/** How many more decimals a limit may have than a reading, so that 30.25 V is not shown as 30.3 V. */
const finerDigits = 2;

/** Whether the cause of the alarm still lasts. */
export function isLasting(alarm: Pick<Alarm, 'returnedAt' | 'withdrawn'>): boolean {
  return alarm.returnedAt === null && alarm.withdrawn === null;
}

export function alarmStateWord(state: AlarmState): string {
  return alarmWords()[state];
}

/** Why an alarm was withdrawn; null where it was not. */
export function withdrawnText({ withdrawn, withdrawnCode }: Pick<Alarm, 'withdrawn' | 'withdrawnCode'>): string | null {
  return withdrawnCode === undefined ? withdrawn : alarmWords()[withdrawnCode];
}

export function priorityWord(priority: Alarm['priority']): string {
  return alarmWords()[priority];
}

/** The quantity of a window or alarm in words; one that these pages do not know keeps its name. */
export function quantityWord(quantity: string): string {
  return isAlarmQuantity(quantity) ? alarmWords()[quantity] : quantity;
}

/**
 * What is wrong, by how much and from where on, in one sentence and in the chosen language and units: "DK-0417/L2: Voltage of arc 1 is below 30.0 V,
 * min 27.3 V, from 1284.5 mm (seam position)." For a cleared alarm it is in the past tense. It reads signals, so call it while drawing. The carriage is not
 * named. `silentFor`, ms, is how long the carriage has been silent, if the caller knows; otherwise the alarm gives it.
 */
export function alarmSentence(alarm: Alarm, seam: string | null, silentFor: number | null = null): string {
  return alarmWords().joined(seam, [...whatIsWrong(alarm, silentFor), ...sinceWhere(alarm)]);
}

function whatIsWrong(alarm: Alarm, silentFor: number | null): string[] {
  const say = alarmWords();
  const stands = isLasting(alarm);
  const of = (name: ShownQuantity, value: number | null): string | null => (value === null ? null : shown(name, value));
  const withArc = (sentence: string): string => (alarm.arc === null ? sentence : say.atArc(sentence, alarm.arc));
  switch (alarm.quantity) {
    case 'noData': {
      const age = stands ? (silentFor ?? silenceOf(alarm)) : null;
      return [withArc(say.silent(age === null ? null : formatAge(age), stands))];
    }
    case 'travelStopped': return [say.stopped(of('travelSpeed', alarm.worst), stands)];
    case 'polarity': return [withArc(say.wrongSign(wantedPolarity(alarm), stands))];
    case 'overlap':
      // A negative overlap is a length that was not welded.
      return [withArc(say.unwelded(of('fineLength', alarm.worst === null ? null : Math.abs(alarm.worst))))];
    case 'feedMismatch': return [withArc(say.mismatch(alarm.worst !== null && alarm.limit !== null && alarm.worst < alarm.limit, of('feedMismatch', alarm.worst), of('feedMismatch', alarm.limit), stands)), say.mismatchCauses];
    case 'storage': return [say.storageAway(stands)];
    case 'broker': return [say.brokerAway(stands)];
    case 'sequence': return [say.numbersMissing(stands)];
    case 'serviceClock': return [say.clockSet];
    case 'carriages': return [say.carriagesFull(stands)];
    default: return outsideWindow(alarm, stands);
  }
}

/** For how long no data has come, ms: the alarm is raised after `limit` seconds of silence. Null if only the carriage's clock was stored. */
function silenceOf(alarm: Alarm): number | null {
  return alarm.recordedAt === null ? null : serverNow.value - Date.parse(alarm.recordedAt) + (alarm.limit ?? 0) * 1000;
}

/** Positive current is electrode positive, so a wrong one that is negative should have been that. */
function wantedPolarity({ worst }: Alarm): string | null {
  const say = alarmWords();
  return worst === null || worst === 0 ? null : worst < 0 ? say.dcep : say.dcen;
}

function outsideWindow({ quantity, arc, limit, worst }: Alarm, stands: boolean): string[] {
  const say = alarmWords();
  const what = arc === null ? quantityWord(quantity) : say.ofArc(quantityWord(quantity), arc);
  const name = shownAs(quantity);
  if (limit === null || worst === null || worst === limit) return [say.outside(what, limit === null ? null : limitText(name, limit), stands)];
  const worstText = name === null ? String(worst) : distinctText(name, worst, limit);
  return worst > limit
    ? [say.above(what, limitText(name, limit), stands), say.highest(worstText)]
    : [say.below(what, limitText(name, limit), stands), say.lowest(worstText)];
}

/** "From 1284.5 mm (seam position)": where it began, without what is wrong. */
export function alarmPlace(alarm: Alarm): string {
  const [place = ''] = sinceWhere(alarm);
  return capital(place);
}

/** A place on a circumferential seam in both ways: "1284.5 mm, 35.0 °". */
function withDegrees(place: string, degrees: number | null | undefined): string {
  return degrees == null ? place : `${place}, ${shown('degrees', degrees)}`;
}

function sinceWhere(alarm: Alarm): string[] {
  const say = alarmWords();
  const [seam, travelled] =
    alarm.quantity === 'overlap' ? [say.atSeam, say.atTravelled] : alarm.quantity === 'noData' ? [say.lastKnownSeam, say.lastKnownTravelled] : [say.sinceSeam, say.sinceTravelled];
  if (alarm.seamPosition !== null) return [seam(withDegrees(shown('seamPosition', alarm.seamPosition), alarm.seamDegrees))];
  if (alarm.travelled !== null) return [travelled(withDegrees(shown('travelled', alarm.travelled), alarm.degrees))];
  return alarm.quantity === 'noData' && isLasting(alarm) ? [] : [say.sinceTime(formatClock(alarm.since))];
}

/** A limit with all of its digits where there are few more than those of a reading. */
export function limitText(name: ShownQuantity | null, limit: number): string {
  if (name === null) return String(limit);
  const value = inUnit(name, limit);
  const least = decimalsOf(name);
  for (let decimals = least; decimals <= least + finerDigits; decimals += 1) {
    if (Math.abs(Number(value.toFixed(decimals)) - value) < 1e-9 * Math.max(1, Math.abs(value))) return `${formatNumber(value, decimals)}\u00a0${unitOf(name)}`;
  }
  return shown(name, limit);
}

/** A value with enough digits to differ from the limit: 29.96 V is not shown as 30.0 V below a limit of 30.0 V. */
export function distinctText(name: ShownQuantity, value: number, limit: number): string {
  const least = decimalsOf(name);
  for (let decimals = least; decimals <= least + finerDigits; decimals += 1) {
    const text = formatNumber(inUnit(name, value), decimals);
    if (text !== formatNumber(inUnit(name, limit), decimals)) return `${text}\u00a0${unitOf(name)}`;
  }
  return shown(name, value);
}

/** How a window's quantity is measured and rounded. */
export function shownAs(quantity: string): ShownQuantity | null {
  if (quantity === 'preheat' || quantity === 'interpassTemperature') return 'temperature';
  return isShownQuantity(quantity) ? quantity : null;
}

function isAlarmQuantity(name: string): name is AlarmQuantity {
  return (alarmQuantities as readonly string[]).includes(name);
}
