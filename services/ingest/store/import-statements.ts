import type { SqliteFile as Connection, SqliteStatement as Statement } from '../../../shared/sqlite/sqlite-file.js';

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

/** Statements that only an import uses. */
export interface ImportStatements {
  readonly ofStream: Statement<[number], ImportRow>;
  readonly unfinished: Statement<[], ImportRow>;
  readonly runsOf: Statement<[number], HeldRun>;
  /** Runs of the same log under other carriages. Parameters: the stream's name, its number. */
  readonly sameLog: Statement<[string, number], HeldRun>;
  /** Runs of the carriage whose arc burnt within a period, µs. Parameters: site, carriage, stream to leave out, end, begin. */
  readonly sameTime: Statement<[string, string, number, number, number], HeldRun>;
}

const told = 'id, site, carriage, seam, run, "override"';

export function importStatements(db: Connection): ImportStatements {
  return {
    ofStream: db.prepare('select stream_id, finished, zero, runs from imports where stream_id = ?'),
    unfinished: db.prepare('select stream_id, finished, zero, runs from imports where finished is null'),
    runsOf: db.prepare(`select ${told} from runs where stream_id = ? order by started`),
    sameLog: db.prepare(`select ${told} from runs where stream_id in (select id from streams where stream = ? and id <> ?) order by started limit 5`),
    sameTime: db.prepare(
      `select ${told} from runs where site = ? and carriage = ? and stream_id <> ? and started < ? and coalesce(ended, started) > ? order by started desc limit 5`,
    ),
  };
}
