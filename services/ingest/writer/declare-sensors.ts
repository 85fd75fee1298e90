import type { Sensors } from '../../../shared/weld/procedure/sensors.js';
import type { SensorRevision } from '../../../shared/weld/run/sensor-timeline.js';
import type { Carriage } from '../fold/carriage.js';
import type { FoldDeps } from '../fold/fold-deps.js';

/** Adds a declaration of sensors to a carriage. It holds from just after the newest item received so far; a run that was lit before keeps its own. */
export function declareSensors({ id, intake }: Pick<Carriage, 'id' | 'intake'>, body: Sensors, by: string, { changes, now }: Pick<FoldDeps, 'changes' | 'now'>): SensorRevision {
  const { newest, sensors } = intake;
  const revision = { revision: sensors.length + 1, body, after: newest === null ? null : { rank: newest.rank, key: newest.key }, at: now(), by };
  sensors.push(revision);
  changes.sensors.push({ stream: id, revision: revision.revision, at: revision.at, by, after: revision.after === null ? null : JSON.stringify(revision.after), body: JSON.stringify(body) });
  return revision;
}

/** An imported log is read by the newest declaration for its carriage; one that was read before keeps its own. */
export function takeSensors(log: Pick<Carriage, 'id' | 'intake'>, newest: SensorRevision | null, { changes }: Pick<FoldDeps, 'changes'>): void {
  if (newest === null || log.intake.sensors.length > 0) return;
  const own = { ...newest, after: null };
  log.intake.sensors.push(own);
  changes.sensors.push({ ...own, stream: log.id, body: JSON.stringify(own.body) });
}
