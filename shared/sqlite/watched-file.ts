import type { SqliteFile, SqliteStatement } from './sqlite-file.js';

type Watch = <Parameters extends unknown[], Row>(statement: SqliteStatement<Parameters, Row>) => SqliteStatement<Parameters, Row>;

/** An open database whose statements go through `watch`. */
export function watchedFile(db: SqliteFile, watch: Watch): SqliteFile {
  return {
    prepare: <Parameters extends unknown[], Row>(sql: string) => watch(db.prepare<Parameters, Row>(sql)),
    exec: (sql) => { db.exec(sql); },
    pragma: (text, options) => db.pragma(text, options),
    transaction: (work) => db.transaction(work),
    get isTransaction() { return db.isTransaction; },
    close: () => { db.close(); },
  };
}
