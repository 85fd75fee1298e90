import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { byArrival } from '../shared/alarm-record.js';
import { fetchAlarms } from '../shared/api.js';

/** As many as anybody looks through at a carriage; the alarms page has the rest. */
const read = 200;

/** Cleared alarms of a carriage that nobody has acknowledged, the newest first: those that came with it, and the others once they are read. Read again when their number changes. */
export function useCleared({ site, carriage, alarms, alarmCounts }: Carriage): readonly Alarm[] {
  const found = useSignal<readonly Alarm[]>([]);
  const { cleared } = alarmCounts;
  useEffect(() => {
    let left = false;
    void fetchAlarms({ site, carriage, state: 'returned', limit: read }).then((answer) => {
      if (!left && answer.ok) found.value = answer.value.items;
    });
    return () => {
      left = true;
    };
  }, [site, carriage, cleared]);
  const here = alarms.filter(({ state }) => state === 'returned');
  const gone = new Set(alarms.filter(({ state }) => state !== 'returned').map(({ id }) => id));
  return [...here, ...found.value.filter((own) => !gone.has(own.id) && !here.some(({ id }) => id === own.id))].sort(byArrival);
}
