import { alarmState, isOver, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { alarmAnswer } from './alarm-answer.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import type { CarriageAlarms } from '../fold/alarm-book.js';
import type { Carriage } from '../fold/carriage.js';
import type { StoredAlarms } from '../fold/stored-alarms.js';

/** The most alarms that are sent with a carriage's state; the others are only counted, and can be requested. */
const mostShown = 10;

const priorities = ['high', 'medium', 'low'] as const;

/** The most urgent alarms of a carriage that are not back to normal, and how many there are. `run` is the run being welded. */
export function carriageAlarms(carriage: Carriage, run: string | null, deps: FoldDeps): CarriageAlarms {
  const now = deps.now();
  const { alarms } = carriage;
  const held = alarms.shown;
  if (held?.run === run) return held.alarms;
  const counts = { active: 0, unacknowledged: 0, cleared: alarms.cleared, clearedOfRun: 0, shelved: 0, suppressed: 0 };
  const active: AlarmFacts[] = [];
  for (const alarm of alarms.atHand) {
    const state = alarmState(alarm, now);
    if (state === 'shelved') counts.shelved += 1;
    else if (state === 'suppressed') counts.suppressed += 1;
    else if (state === 'unacknowledged' || state === 'acknowledged') counts.active += 1;
    if (state === 'unacknowledged') counts.unacknowledged += 1;
    if (state === 'returned' && run !== null && alarm.run === run) counts.clearedOfRun += 1;
    if (!isOver(alarm) && state !== 'suppressed') active.push(alarm);
  }
  active.sort((a, b) => priorities.indexOf(a.priority) - priorities.indexOf(b.priority) || (b.recordedAt ?? 0) - (a.recordedAt ?? 0));
  const shown = [...active.slice(0, mostShown), ...others(alarms.stored, active)].slice(0, mostShown);
  const told = { items: shown.map((alarm) => alarmAnswer(alarm, carriage, now)), counts };
  alarms.shown = { run, alarms: told };
  return told;
}

/** Alarms that are over, shelved or suppressed, the newest first. */
function others(stored: StoredAlarms, active: readonly AlarmFacts[]): AlarmFacts[] {
  if (active.length >= mostShown) return [];
  const shown = new Set(active.map((alarm) => alarm.id));
  const newest = stored.newest.slice(-mostShown - active.length).reverse();
  return newest.flatMap((id) => stored.known.get(id)?.facts ?? []).filter((alarm) => !shown.has(alarm.id));
}
