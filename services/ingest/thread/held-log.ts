import { assignmentPayload } from '../../../shared/weld/procedure/assignment-payload.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { sameAssignment } from '../../../shared/weld/decode/same-assignment.js';
import type { PortFailure } from '../../ingest-port.js';
import type { HeldRun, ImportStatements } from '../store/import-statements.js';
import type { Statements } from '../store/statements.js';

/** The identity of a log, before any of it is imported. */
export interface NamedLog {
  readonly site: string;
  readonly carriage: string;
  /** Derived from the bytes of the log. */
  readonly boot: string;
  readonly assignment: Assignment | null;
  /** ms since 1970; null if none was given. */
  readonly start: number | null;
}

/** Null if the log is not stored; the ids of its runs if it is stored under the same assignment; otherwise the reason why it is refused. */
export function heldLog(log: NamedLog, statements: Statements, imports: ImportStatements): PortFailure | { readonly runs: readonly string[] } | null {
  const stream = statements.findStream.get(log.site, log.carriage, log.boot);
  if (stream === undefined) return null;
  const imported = imports.ofStream.get(stream.id);
  if (imported?.finished === null) return null;
  const runs = imports.runsOf.all(stream.id);
  const [first] = runs;
  if (first !== undefined) {
    const body = statements.assignments.all(stream.id).at(-1)?.body ?? null;
    const given = body === null ? null : (JSON.parse(body) as Assignment);
    if (log.assignment !== null && !holds(log.assignment, given, runs)) return underAnother(first, log.assignment, given);
    const zero = imported?.zero ?? null;
    if (log.start !== null && zero !== null && log.start !== zero) {
      return refusal(first, `with its zero at ${new Date(zero).toISOString()}, not ${new Date(log.start).toISOString()}. The times of a stored run stay as they are; nothing was changed.`);
    }
  }
  return { runs: runs.map(({ id }) => id) };
}

/** Whether the log was imported under that assignment, or all of its runs have been corrected to it since. */
function holds(asked: Assignment, given: Assignment | null, runs: readonly HeldRun[]): boolean {
  if (given !== null && sameAssignment(given, asked)) return true;
  return runs.every(({ override }) => override !== null && sameAssignment(JSON.parse(override) as Assignment, asked));
}

function underAnother(first: HeldRun, asked: Assignment, given: Assignment | null): PortFailure {
  const names = given === null ? 'which is not assigned' : `which differs in ${differences(given, asked).join(', ')}`;
  return refusal(first, `${names}. Nothing was changed. Correct the assignment of that run instead: on its page, or with PUT /api/runs/${first.id}/assignment.`);
}

function differences(given: Assignment, asked: Assignment): string[] {
  const [before, after] = [given, asked].map((own) => assignmentPayload(own) as Record<string, unknown>) as [Record<string, unknown>, Record<string, unknown>];
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].filter((name) => JSON.stringify(before[name]) !== JSON.stringify(after[name]));
}

function refusal(first: HeldRun, why: string): PortFailure {
  const { id, seam, run } = first;
  const named = seam === null || run === null ? `an unassigned run (${id})` : `run ${run} of seam ${seam} (${id})`;
  return { failed: 'conflict', reason: `This log is stored already as ${named}, ${why}`, held: { run: id, seam, runNumber: run } };
}
