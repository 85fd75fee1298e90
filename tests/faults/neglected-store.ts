import { join } from 'node:path';
import { savedAlarm } from '../../services/ingest/alarms/save-alarm.js';
import { summedRows } from '../../services/ingest/store/summed-rows.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { untouched } from '../../shared/weld/judging/alarm-life.js';

/** Leaves alarms in a data directory as they are after weeks in which nobody acknowledged any: all of them over, a minute apart. */
export function neglectAlarms(dataDir: string, site: string, carriages: readonly string[], alarmsEach: number): void {
  const db = openWriter(join(dataDir, 'seamwarden.db'));
  migrate(db, [sqliteTracesSchema]);
  const rows = summedRows(db);
  const now = Date.now() * 1e3;
  db.transaction(() => {
    for (const [index, carriage] of carriages.entries()) {
      const id = index + 1;
      rows.saveStream({ id, site, carriage, stream: '', online: 1, last_seen: now, clock_offset: 0, snapshot: null, settled: 0, retired: 0, heard: now });
      for (let at = 0; at < alarmsEach; at += 1) {
        const raisedAt = now - (alarmsEach - at) * 60e6;
        const alarm = {
          id: `${carriage}-${at}`, run: `run-${carriage}`, seam: 'DK-0417/L2', runNumber: 1, arc: 1, quantity: 'voltage', limit: 34, worst: 35.5, priority: 'medium' as const,
          response: 'check the contact tube', since: raisedAt - 1e6, raisedAt, recordedAt: raisedAt, travelled: at, seamPosition: at, ...untouched, returnedAt: raisedAt + 5e6, clearedRecordedAt: raisedAt + 5e6,
        };
        rows.saveAlarm(savedAlarm(alarm, { id, site, carriage }, now));
      }
    }
  })();
  db.close();
}
