import type { Alarm } from '../../../shared/api-types/alarm.js';
import { fetchAlarms } from '../../shared/api.js';
import { onAlarm } from '../../shared/live-feed.js';
import { usePagedList, type PagedList } from '../../shared/use-paged-list.js';

/** More than any run has. */
const pageSize = 1000;

/** The alarms of a run, those raised last first. */
export function useRunAlarms(run: string): PagedList<Alarm> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchAlarms({ run, ...page }, signal),
      pageSize,
      hear: onAlarm,
      fits: (alarm) => alarm.run === run,
      order: (a, b) => (a.raisedAt < b.raisedAt ? 1 : a.raisedAt > b.raisedAt ? -1 : 0),
    },
    [run],
  );
}
