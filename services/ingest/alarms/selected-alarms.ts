import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import type { AlarmSelection, PortFailure } from '../../ingest-port.js';
import type { ServiceAlarms } from './service-alarms.js';
import type { AlarmRow, Statements } from '../store/statements.js';

interface Selected {
  readonly id: string;
  readonly facts: AlarmFacts;
  /** The stored row; null for an alarm of the service that is in memory. */
  readonly row: AlarmRow | null;
}

/** The selected alarms that are not back to normal, in the order in which they were raised. Not found if an id names none. */
export function selectedAlarms({ alarm, openOfRun, openOfCarriage }: Statements, ofService: Pick<ServiceAlarms, 'find'>, { ids, run, carriage }: AlarmSelection): PortFailure | { readonly alarms: readonly Selected[] } {
  if (ids !== undefined) {
    const alarms: Selected[] = [];
    for (const id of new Set(ids)) {
      const facts = ofService.find(id);
      const row = facts === null ? alarm.get(id) : null;
      if (row === undefined) return { failed: 'notFound', reason: `there is no alarm ${id}` };
      if (row !== null) alarms.push(ofRow(row));
      else if (facts !== null) alarms.push({ id, facts, row });
    }
    return { alarms };
  }
  const rows = run !== undefined ? openOfRun.all(run) : openOfCarriage.all(carriage?.carriage ?? '', carriage?.site ?? '');
  return { alarms: rows.map(ofRow) };
}

function ofRow(row: AlarmRow): Selected {
  return { id: row.id, facts: JSON.parse(row.facts) as AlarmFacts, row };
}
