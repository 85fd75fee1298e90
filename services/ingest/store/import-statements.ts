import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';

/** What is known of an imported log. Times in µs since 1970; `zero` in ms, null if the log gives its times itself. */
export interface ImportRow {
  readonly stream_id: number;
  readonly finished: number | null;
  readonly zero: number | null;
  readonly runs: string;
}

export interface HeldRun {
  readonly id: string;
  readonly site: string;
  readonly carriage: string;
  readonly seam: string | null;
  readonly run: number | null;
  readonly override: string | null;
}

const told = 'id, site, carriage, seam, run, "override"';

/** Statements that only an import uses. */
export type ImportStatements = ReturnType<typeof importStatements>;

export function importStatements(db: SqliteFile) {
  return {
    ofStream: db.prepare<[number], ImportRow>('select stream_id, finished, zero, runs from imports where stream_id = ?'),
    unfinished: db.prepare<[], ImportRow>('select stream_id, finished, zero, runs from imports where finished is null'),
    runsOf: db.prepare<[number], HeldRun>(`select ${told} from runs where stream_id = ? order by started`),
    /** Runs of the same log under other carriages. Parameters: the stream's name, its number. */
    sameLog: db.prepare<[string, number], HeldRun>(`select ${told} from runs where stream_id in (select id from streams where stream = ? and id <> ?) order by started limit 5`),
    /** Runs of the carriage whose arc burnt within a period, µs. Parameters: site, carriage, stream to leave out, end, begin. */
    sameTime: db.prepare<[string, string, number, number, number], HeldRun>(
      `select ${told} from runs where site = ? and carriage = ? and stream_id <> ? and started < ? and coalesce(ended, started) > ? order by started desc limit 5`,
    ),
  };
}
