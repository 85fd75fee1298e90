import type { PlainAlarm } from './alarm-types.js';
import { arcWindowNames, type PlainExcursion } from './window-types.js';

const windowed: readonly string[] = [...arcWindowNames, 'travelSpeed', 'heatInput', 't85'];

type Stretch = Pick<PlainExcursion, 'arc' | 'quantity' | 'limit' | 'worst' | 'from' | 'to'>;
const show = ({ arc, quantity, limit, worst, from, to }: Stretch): string => `${String(arc)} ${quantity} ${limit} from ${from} to ${String(to)} worst ${worst.toPrecision(10)}`;

/**
 * The differences between the alarms of a finished run and its excursions: those of windowed quantities that were not withdrawn are the same (rules,
 * section 6).
 */
export function differencesFromRecord(alarms: readonly PlainAlarm[], excursions: readonly PlainExcursion[]): string[] {
  const raised = alarms.filter(({ quantity, withdrawn }) => windowed.includes(quantity) && !withdrawn).map((alarm) => show({ ...alarm, from: alarm.since.time, to: alarm.returnedAt }));
  const recorded = excursions.filter(({ quantity }) => quantity !== 'meanHeatInput').map(show);
  return [
    ...raised.filter((line) => !recorded.includes(line)).map((line) => `only an alarm: ${line}`),
    ...recorded.filter((line) => !raised.includes(line)).map((line) => `only an excursion: ${line}`),
  ];
}
