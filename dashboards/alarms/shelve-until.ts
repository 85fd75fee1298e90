import { plantTime, timeInPlant } from '../shared/plant-time.js';

const minute = 60_000;
const day = 86_400_000;

/** For how long an alarm is shelved by choice, ms; `time` asks for a time of day. */
export const shelveChoices = [
  { name: '10min', length: 10 * minute },
  { name: '30min', length: 30 * minute },
  { name: '2h', length: 120 * minute },
  { name: 'time', length: null },
] as const;

export type ShelveChoice = (typeof shelveChoices)[number]['name'];

/** The next time after `at` (ms since 1970) at which clocks in the plant show `HH:MM`; null if the text is not a time of day. */
export function nextTimeOfDay(text: string, at: number): number | null {
  const found = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(text.trim());
  if (found === null) return null;
  const clock = { hour: Number(found[1]), minute: Number(found[2]), second: 0 };
  const today = timeInPlant({ ...plantTime(at), ...clock });
  if (today > at) return today;
  // Half a day after today's noon it is tomorrow, whatever the clocks do. More than a day may lie between; the service accepts a day.
  const noon = timeInPlant({ ...plantTime(at), hour: 12, minute: 0, second: 0 });
  return Math.min(timeInPlant({ ...plantTime(noon + day), ...clock }), at + day);
}
