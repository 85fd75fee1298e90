import { rowAsWritten, runSum } from '../../../shared/records/row-sum.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { withEntries } from '../../../shared/weld/run/assignment-timeline.js';
import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import type { RunMarks } from '../../../shared/weld/run/run-figures.js';
import { readRowGroups } from '../../../shared/traces/row-groups.js';
import type { PortFailure } from '../../ingest-port.js';
import type { GivenAssignment } from './assign-stream.js';
import type { StreamAccess } from './stream-access.js';
import { ensureNamed } from './stream-load.js';
import type { Carriage } from '../fold/carriage.js';
import { addUnder, startUnder } from '../fold/sums-under.js';
import { knownOf } from '../fold/run-temperature.js';
import type { RunEntry, SumsUnder } from '../fold/run-book.js';
import { assignmentOfRun } from '../fold/intake.js';

/** A finished run that a person assigns, as it was before, with its rows summed under the new assignment. */
export interface GatheredRun {
  readonly carriage: Carriage;
  readonly entry: RunEntry;
  readonly before: Assignment | null;
  readonly given: GivenAssignment;
}

export function gatherRun(id: string, assigned: Assignment, streams: StreamAccess): PortFailure | GatheredRun {
  const { statements, fold } = streams;
  const row = statements.run.get(id);
  if (row === undefined) return { failed: 'notFound', reason: `there is no run ${id}` };
  rowAsWritten(`run ${id}`, row, runSum);
  if (row.state !== 'finished') return { failed: 'conflict', reason: 'the run is not finished; assign its carriage instead' };
  const name = statements.streamById.get(row.stream_id);
  if (name === undefined) return { failed: 'notFound', reason: `there is no run ${id}` };
  const carriage = streams.stream(name.site, name.carriage, name.stream);
  const entry = [...carriage.runs.entries.values()].find((own) => own.id === id);
  if (carriage.fold.fault !== null) return { failed: 'conflict', reason: `what is stored of ${name.site}/${name.carriage} cannot be computed, so that nothing of it is changed: ${carriage.fold.fault}` };
  if (entry === undefined) return { failed: 'conflict', reason: 'the run is too old to be assigned' };
  const before = assignmentOfRun(carriage.intake, entry);
  // What was prepared and changed at the carriage is a fact of the run, whichever job it turns out to have been.
  const assignment = before === null ? assigned : withEntries(assigned, before);
  ensureNamed(assignment, statements, fold);
  const revision = assignment.procedure === undefined ? null : fold.procedures.newest(assignment.procedure);
  const marks = storedMarks(row.marks);
  const under = startUnder(assignment, revision, knownOf(carriage, { id, begin: marks, assignment }, fold), fold);
  const tail = addRowsUnder(under, carriage, id, streams);
  return { carriage, entry, before, given: { assignment, revision, under, tail, marks } };
}

/** Adds the final rows of a run to its sums, and returns those that may still change. */
export function addRowsUnder(under: SumsUnder, carriage: Carriage, run: string, { traces }: Pick<StreamAccess, 'traces'>): RowGroup[] {
  const tail: RowGroup[] = [];
  const final = carriage.fold.live.stretches[0]?.before.merge.next ?? Infinity;
  for (const group of readRowGroups(traces, run)) {
    if (columnOf(group.rows, group.at, runColumn.index) < final) addUnder(under, group);
    else tail.push(group);
  }
  return tail;
}

/** Marks of earlier versions lack whether the run was lit elsewhere, and how it began. */
export function storedMarks(marks: string): GivenAssignment['marks'] {
  const own = JSON.parse(marks) as Omit<RunMarks, 'litElsewhere' | 'before' | 'plate'> & { readonly travelJump: boolean } & Partial<Pick<RunMarks, 'litElsewhere' | 'before' | 'plate'>>;
  return { ...own, litElsewhere: own.litElsewhere ?? false, before: own.before ?? null, plate: own.plate ?? null };
}
