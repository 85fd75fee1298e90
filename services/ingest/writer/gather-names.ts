import { procedureSum, rowAsWritten } from '../../../shared/records/row-sum.js';
import { isDamageError } from '../../../shared/sqlite/damage.js';
import type { KnownPasses, Pass } from '../fold/known-passes.js';
import type { KnownProcedures } from '../fold/known-procedures.js';
import type { Statements } from '../store/statements.js';
import { reading } from '../store/summed-rows.js';

/** Reads all revisions of a procedure, unless that has been done. The error for a damaged one is thrown when it is used. */
export function ensureProcedure(name: string, statements: Statements, procedures: KnownProcedures): void {
  if (procedures.has(name)) return;
  try {
    const rows = reading('a procedure', () => statements.procedures.all(name));
    procedures.put(name, rows.map((row) => ({ revision: row.revision, body: () => rowAsWritten('a revision of a procedure', row, procedureSum).body })));
  } catch (thrown) {
    if (!isDamageError(thrown)) throw thrown;
    const body = (): never => {
      throw thrown;
    };
    procedures.put(name, [{ revision: Number.POSITIVE_INFINITY, body }]);
  }
}

/** Reads which runs are stored on all passes of a seam, unless that has been done. */
export function ensureSeam(seam: string, statements: Statements, passes: KnownPasses): void {
  if (passes.hasSeam(seam)) return;
  passes.putSeam(seam, statements.passesOfSeam.all(seam).map(({ id, run, stream_id: stream, started }) => ({ id, run, stream, started })));
}

/** Reads which runs are stored on a pass, unless that has been done. */
export function ensurePass({ seam, run }: Pass, statements: Statements, passes: KnownPasses): void {
  if (passes.has({ seam, run })) return;
  passes.put({ seam, run }, statements.passes.all(seam, run).map(({ id, stream_id: stream, started }) => ({ id, stream, started })));
}
