import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { unsentFigures } from '../unsent.js';

/** The windows of run group "first side" of the procedure in `interface.md`. */
const windows = {
  arcs: [{ arc: 1, current: { min: 580, max: 680 }, voltage: { min: 30, max: 34 } }],
  travelSpeed: { min: 450, max: 560 },
  heatInput: { min: 1.8, max: 3.1 },
} as const satisfies Carriage['windows'];

/** A carriage that welds well: 612 A, 31.2 V, 520 mm/min; 612 · 31.2 · 60 / (520 · 1000) = 2.203 kJ/mm (EN 1011-1). */
export function madeCarriage(carriage: string, change: Partial<Carriage> = {}): Carriage {
  return {
    site: 'hall-a',
    carriage,
    online: true,
    welding: true,
    lastSeen: new Date().toISOString(),
    clockOffset: 0.02,
    assignment: { seam: 'DK-0417/L2', run: 3, procedure: 'SA-12', seamLength: 6000, operator: 'op-07' },
    run: `run-${carriage}`,
    arcs: [{ arc: 1, on: true, ...unsentFigures, current: 612.4, voltage: 31.2, wireFeedSpeed: 1.21, currentVariation: 0.02, voltageVariation: 0.01 }],
    travelSpeed: 520,
    travelled: 3570,
    seamPosition: 3570,
    arcEnergy: 2.203,
    heatInput: 2.203,
    localHeatInput: 2.21,
    windows: { ...windows, arcs: [...windows.arcs] },
    outlook: { lengthToGo: 2430, endsAt: new Date(Date.now() + 280_000).toISOString(), wire: [], absent: {} },
    drift: [],
    alarms: [],
    alarmCounts: countsOf(change.alarms ?? [], change.run ?? `run-${carriage}`),
    ...change,
  };
}

/** As the service counts them. */
export function countsOf(alarms: readonly Alarm[], run: string): Carriage['alarmCounts'] {
  const number = (is: (alarm: Alarm) => boolean): number => alarms.filter(is).length;
  return {
    active: number(({ state }) => state === 'unacknowledged' || state === 'acknowledged'),
    unacknowledged: number(({ state }) => state === 'unacknowledged'),
    cleared: number(({ state }) => state === 'returned'),
    clearedOfRun: number((alarm) => alarm.state === 'returned' && alarm.run === run),
    shelved: number(({ state }) => state === 'shelved'),
    suppressed: number(({ state }) => state === 'suppressed'),
  };
}

/** Arc 1 at another voltage, the rest as it is. */
export function atVoltage(voltage: number): Pick<Carriage, 'arcs'> {
  return { arcs: [{ arc: 1, on: true, ...unsentFigures, current: 612.4, voltage, wireFeedSpeed: 1.21, currentVariation: 0.02, voltageVariation: 0.01 }] };
}

/** The voltage of arc 1 went above 34 V, to 35.2 V at worst, at 1284.5 mm on the seam; nobody has acknowledged it. */
export function madeAlarm(carriage: string, change: Partial<Alarm> = {}): Alarm {
  const at = new Date(Date.now() - 30_000).toISOString();
  return {
    id: `alarm-${carriage}`,
    site: 'hall-a',
    carriage,
    run: `run-${carriage}`,
    seam: 'DK-0417/L2',
    runNumber: 3,
    arc: 1,
    quantity: 'voltage',
    limit: 34,
    worst: 35.2,
    priority: 'high',
    response: 'check the contact tube',
    state: 'unacknowledged',
    since: at,
    raisedAt: at,
    recordedAt: at,
    travelled: 1284.5,
    seamPosition: 1284.5,
    acknowledgedAt: null,
    acknowledgedBy: null,
    note: null,
    returnedAt: null,
    clearedRecordedAt: null,
    shelvedUntil: null,
    shelvedBy: null,
    shelvedReason: null,
    withdrawn: null,
    ...change,
  };
}
