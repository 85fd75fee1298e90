import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { now } from '../shared/now.js';
import { activeAlarms } from '../shared/standing-alarms.js';

/** How long the station offers to add a note, ms. */
const noteFor = 10_000;

export interface AlarmTurn {
  /** The alarm in the panel: an active one, or else something wrong for which no alarm is active; null if there is nothing. */
  readonly alarm: Alarm | null;
  /** Of how many active ones it is which, from 0. */
  readonly at: number;
  readonly count: number;
  readonly next: () => void;
  /** The alarm that was acknowledged a moment ago, while the station offers to add a note. */
  readonly noteOn: Alarm | null;
  /** s for which the note is still offered. */
  readonly noteLeft: number;
  readonly askNote: (alarm: Alarm) => void;
  readonly endNote: () => void;
}

/** Which alarm is in the panel. A new alarm always takes it, whatever anybody was doing with another; `onNew` closes that. */
export function useAlarmTurn(carriage: Carriage, verdict: CarriageVerdict, onNew: () => void): AlarmTurn {
  const active = activeAlarms(carriage);
  const looked = useSignal<string | null>(null);
  const asked = useSignal<{ readonly alarm: Alarm; readonly until: number } | null>(null);
  const known = useRef<ReadonlySet<string> | null>(null);
  const open = active.filter(({ state }) => state === 'unacknowledged').map(({ id }) => id);
  useEffect(() => {
    const before = known.current;
    known.current = new Set([...(before ?? []), ...open]);
    if (before === null || open.every((id) => before.has(id))) return;
    looked.value = null;
    asked.value = null;
    onNew();
  }, [open.join(' ')]);
  const at = Math.max(0, active.findIndex(({ id }) => id === looked.value));
  const left = asked.value === null ? 0 : asked.value.until - now.value;
  return {
    alarm: active[at] ?? verdict.alarm,
    at,
    count: active.length,
    next: () => { looked.value = active[(at + 1) % Math.max(1, active.length)]?.id ?? null; },
    noteOn: left > 0 ? (asked.value?.alarm ?? null) : null,
    noteLeft: Math.max(0, Math.ceil(left / 1000)),
    askNote: (alarm) => { asked.value = { alarm, until: Date.now() + noteFor }; },
    endNote: () => { asked.value = null; },
  };
}
