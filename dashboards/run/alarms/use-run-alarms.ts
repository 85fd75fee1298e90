import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../../shared/api-types/alarm.js';
import { fetchAlarms } from '../../shared/api.js';
import { onAlarm, opened } from '../../shared/live-feed.js';

export interface RunAlarms {
  /** Those raised last first; null until the first answer. */
  readonly items: readonly Alarm[] | null;
  readonly failure: string | null;
}

/** The alarms of a run, followed by the live feed. */
export function useRunAlarms(run: string): RunAlarms {
  const found = useSignal<RunAlarms>({ items: null, failure: null });
  const times = opened.value;
  useEffect(
    () =>
      onAlarm((alarm) => {
        if (alarm.run !== run) return;
        const others = (found.peek().items ?? []).filter(({ id }) => id !== alarm.id);
        found.value = { items: [alarm, ...others].sort((a, b) => (a.raisedAt < b.raisedAt ? 1 : -1)), failure: null };
      }),
    [run],
  );
  useEffect(() => {
    let gone = false;
    const read = async (): Promise<void> => {
      const answer = await fetchAlarms({ run, limit: 1000 });
      if (!gone) found.value = answer.ok ? { items: answer.value.items, failure: null } : { ...found.peek(), failure: answer.failure.reason };
    };
    void read();
    return () => {
      gone = true;
    };
  }, [run, times]);
  return found.value;
}
