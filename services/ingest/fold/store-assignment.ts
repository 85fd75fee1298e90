import type { Carriage } from './carriage.js';
import type { FoldDeps } from './fold-deps.js';

/** Queues the entry of a carriage's timeline with this index to be stored, in place of what is stored there. */
export function storeAssignment({ id, intake }: Pick<Carriage, 'id' | 'intake'>, index: number, { changes, now }: Pick<FoldDeps, 'changes' | 'now'>): void {
  const entry = intake.timeline[index];
  const position = intake.assignmentPlaces[index];
  if (entry === undefined || position === undefined) return;
  const { anchor, body, corrected } = entry;
  changes.assignments.push({ stream: id, position, received: now(), anchor: JSON.stringify({ ...anchor, corrected }), body: body === null ? null : JSON.stringify(body) });
}
