import type { Carriage } from '../../shared/api-types/carriage.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { unsentFigures } from '../unsent.js';

const earlier = (ms: number): string => new Date(Date.now() - ms).toISOString();
const between = { welding: false, run: null, outlook: null } as const;
const silentAlarm = (carriage: string) => madeAlarm(carriage, { quantity: 'noData', arc: null, limit: 5, worst: 5 });
const tandem: Carriage['arcs'] = [
  { arc: 1, on: true, ...unsentFigures, current: 1004.2, voltage: 32.4, wireFeedSpeed: 1.9, currentVariation: 0.02, voltageVariation: 0.01 },
  { arc: 2, on: true, ...unsentFigures, current: 748.9, voltage: 35.2, wireFeedSpeed: 1.4, currentVariation: 0.02, voltageVariation: 0.01 },
];
const windows: Carriage['windows'] = {
  arcs: [{ arc: 1, current: { min: 950, max: 1050 }, voltage: { min: 30, max: 34 } }, { arc: 2, current: { min: 700, max: 800 }, voltage: { min: 34, max: 36 } }],
  travelSpeed: { min: 1050, max: 1250 },
  heatInput: { min: 2.6, max: 3.4 },
};
/** Two arcs, their limits and their job. */
export const ofTandem: Partial<Carriage> = { arcs: tandem, windows, travelSpeed: 1160, localHeatInput: 3.102, assignment: { seam: 'SHELL-12/L1', run: 2, procedure: 'SA-12', seamLength: 12_000, operator: 'op-07' } };

/** One carriage after another in each state that a tile tells, those with the most to say first; of the eleventh the first comes again. */
const states: readonly ((name: string) => Carriage)[] = [
  // The newest value is back inside, a second alarm lasts.
  (name) => madeCarriage(name, { ...ofTandem, alarms: [madeAlarm(name, { arc: 2, limit: 36, worst: 37.1 }), madeAlarm(name, { id: `${name}-2`, quantity: 'travelSpeed', arc: null, limit: 1050, worst: 1012 })] }),
  (name) => madeCarriage(name, { ...ofTandem, lastSeen: earlier(25.5 * 60_000), alarms: [silentAlarm(name)] }),
  (name) => madeCarriage(name, { ...atVoltage(35.2), alarms: [madeAlarm(name)] }),
  (name) => madeCarriage(name, ofTandem),
  (name) => madeCarriage(name, { travelSpeed: 3, alarms: [madeAlarm(name, { quantity: 'travelStopped', arc: null, limit: 90, worst: 3 })] }),
  (name) => madeCarriage(name),
  (name) => madeCarriage(name, { alarms: [madeAlarm(name, { quantity: 'heatInput', arc: null, limit: 3.1, worst: 3.912 })], assignment: { seam: 'TANK-7/V-LONG-03', run: 12, procedure: 'SA-12', seamLength: 6000, simulated: true } }),
  (name) => madeCarriage(name, { drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 41.2, leavesAfter: 350 }] }),
  (name) => madeCarriage(name, { outlook: { lengthToGo: 2430, endsAt: earlier(-280_000), wire: [{ arc: 1, lengthNeeded: 20, massNeeded: 2, massLeft: 1.5, endsShortBy: 608 }], absent: {} } }),
  (name) => madeCarriage(name, { ...between, alarms: [madeAlarm(name, { run: 'run-before', state: 'returned', returnedAt: earlier(9_000) })] }),
  (name) => madeCarriage(name, { ...between, assignment: null, windows: null, clockOffset: -1230 }),
];

export function madeFloor(count: number): readonly Carriage[] {
  return Array.from({ length: count }, (_, at) => (states[at % states.length] ?? madeCarriage)(`c${at + 1}`));
}
