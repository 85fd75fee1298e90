import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { byArrival } from '../shared/alarm-record.js';
import { fetchAlarms } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { useAnswer } from '../shared/use-answer.js';

/** As many as anybody looks through at a carriage; the alarms page has the rest. */
const limit = 200;

/** Cleared, unacknowledged alarms of a carriage, the newest first: those that came with it, and the others once they have been read. They are read again when their number changes. */
export function useCleared({ site, carriage, alarms, alarmCounts }: Carriage): readonly Alarm[] {
  const { value } = useAnswer(async (signal) => await fetchAlarms({ site, carriage, state: 'returned', limit }, signal), [site, carriage], { by: [opened.value, alarmCounts.cleared] });
  const here = alarms.filter(({ state }) => state === 'returned');
  const gone = new Set(alarms.filter(({ state }) => state !== 'returned').map(({ id }) => id));
  return [...here, ...(value?.items ?? []).filter((own) => !gone.has(own.id) && !here.some(({ id }) => id === own.id))].sort(byArrival);
}
