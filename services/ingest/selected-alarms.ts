import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { AlarmSelection, PortFailure } from '../ingest-port.js';
import type { ServiceAlarms } from './service-alarms.js';
import type { Statements } from './statements.js';

interface Selected {
  readonly id: string;
  readonly facts: AlarmFacts;
}

/** The alarms of a selection that are not back to normal, in the order in which they were raised. Not found where an id names none. */
export function selectedAlarms({ alarm, openOfRun, openOfCarriage }: Statements, ofService: Pick<ServiceAlarms, 'find'>, { ids, run, carriage }: AlarmSelection): PortFailure | { readonly alarms: readonly Selected[] } {
  if (ids !== undefined) {
    const alarms: Selected[] = [];
    for (const id of new Set(ids)) {
      const facts = ofService.find(id) ?? factsOf(alarm.get(id));
      if (facts === null) return { failed: 'notFound', reason: `there is no alarm ${id}` };
      alarms.push({ id, facts });
    }
    return { alarms };
  }
  const rows = run !== undefined ? openOfRun.all(run) : openOfCarriage.all(carriage?.carriage ?? '', carriage?.site ?? '');
  return { alarms: rows.map(({ facts }) => JSON.parse(facts) as AlarmFacts).map((facts) => ({ id: facts.id, facts })) };
}

function factsOf(row: { readonly facts: string } | undefined): AlarmFacts | null {
  return row === undefined ? null : (JSON.parse(row.facts) as AlarmFacts);
}
