import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import type { Statements } from '../store/statements.js';
import { newestRead, noteStored, type StoredAlarms } from '../fold/stored-alarms.js';
import { noteAlarms } from '../fold/outbox.js';
import type { StreamAccess } from './stream-access.js';

/** Reads the newest alarms of a stream that are over, shelved or suppressed. */
export function readNewest(stored: StoredAlarms, stream: number, statements: Statements): void {
  const rows = statements.newestAlarms.all(stream, newestRead).reverse();
  for (const row of rows) noteStored(stored, JSON.parse(row.facts) as AlarmFacts, row.state, row.number);
  stored.newest = rows.map(({ id }) => id);
  stored.hasOlder = rows.length === newestRead;
}

/** Reads them again for the carriages of which many alarms are back to normal. */
export function gatherNewestAlarms({ lackingAlarms, woken, statements }: StreamAccess): void {
  for (const carriage of lackingAlarms) {
    readNewest(carriage.alarms.stored, carriage.id, statements);
    carriage.alarms.shown = null;
    noteAlarms(carriage.outbox);
    woken.add(carriage);
  }
  lackingAlarms.clear();
}
