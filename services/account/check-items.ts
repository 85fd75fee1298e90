import type { SqliteFile } from '../../shared/records/open-database.js';
import { isDamageError } from '../../shared/sqlite/damage.js';
import { sqliteTraceSeals } from '../../shared/traces/sqlite-trace-seals.js';
import { compareFigures, type FigureOptions } from './compare-figures.js';
import { countItems } from './count-items.js';
import { readCarriage, storedNames } from './stored-carriage.js';

export interface ItemReport {
  readonly carriages: number;
  readonly stored: number;
  readonly late: number;
  /** Carriages of which the store has kept no account so far. */
  readonly uncounted: readonly string[];
  /** What is missing or wrong, each line beginning with its carriage. */
  readonly problems: readonly string[];
}

/**
 * The accounting of every item: each item that counted is in the figures or on the list of late items of a run, and the figures are those
 * of the items in order. It only reads; what is committed meanwhile is left for the next time.
 */
export function checkItems(db: SqliteFile, figures: FigureOptions): ItemReport {
  const report = { carriages: 0, stored: 0, late: 0, uncounted: [] as string[], problems: [] as string[] };
  for (const name of storedNames(db)) {
    const told = `${name.site}/${name.carriage}${name.stream === '' ? '' : ` (${name.stream})`}`;
    report.carriages += 1;
    db.exec('begin');
    try {
      const carriage = readCarriage(db, name);
      const count = countItems(carriage);
      if (count === null) {
        report.uncounted.push(told);
        continue;
      }
      report.stored += count.stored;
      report.late += count.late;
      report.problems.push(...[...count.problems, ...compareFigures(db, carriage, figures), ...tracesLacking(db, carriage.id)].map((line) => `${told}: ${line}`));
    } catch (thrown) {
      report.problems.push(`${told}: what is stored of it can not be read: ${thrown instanceof Error ? thrown.message : String(thrown)}`);
    } finally {
      db.exec('rollback');
    }
  }
  return report;
}

/** Traces of finished runs that miss parts; a trace of an earlier version does not list its parts. */
function tracesLacking(db: SqliteFile, stream: number): string[] {
  if (db.prepare("select 1 from sqlite_schema where name = 'trace_seals'").get() === undefined) return [];
  const seals = sqliteTraceSeals(db);
  return db.prepare<[number], { id: string }>('select id from runs where stream_id = ?').all(stream).flatMap(({ id }) => {
    try {
      seals.check(id);
      return [];
    } catch (thrown) {
      if (!isDamageError(thrown)) throw thrown;
      return [thrown.message];
    }
  });
}
