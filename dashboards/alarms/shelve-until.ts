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

/** The next time after `at` (ms since 1970) when clocks in the browser's zone show `HH:MM`; null where the text is no time of day. */
export function nextTimeOfDay(text: string, at: number): number | null {
  const found = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(text.trim());
  if (found === null) return null;
  const then = new Date(at);
  then.setHours(Number(found[1]), Number(found[2]), 0, 0);
  if (then.getTime() <= at) {
    then.setDate(then.getDate() + 1);
    // Where the clocks were set meanwhile, more than a day may lie between; the service takes a day.
    return Math.min(then.getTime(), at + day);
  }
  return then.getTime();
}
