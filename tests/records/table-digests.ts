import { createHash } from 'node:crypto';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';

/** A digest of all rows of each table that holds any, in the order of their keys. */
export function tableDigests(db: SqliteFile): Record<string, string> {
  const tables = db.prepare<[], { name: string }>("select name from sqlite_master where type = 'table' and name not like 'sqlite_%' order by name").all();
  const digests: Record<string, string> = {};
  for (const { name } of tables) {
    const keys = db.prepare<[], { name: string }>(`select name from pragma_table_info('${name}') where pk > 0 order by pk`).all().map((column) => `"${column.name}"`);
    const rows = db.prepare<[], Record<string, unknown>>(`select * from "${name}" order by ${keys.join(', ')}`).all();
    if (rows.length === 0) continue;
    const hash = createHash('sha256');
    for (const row of rows) hash.update(JSON.stringify(Object.values(row).map((value) => (value instanceof Uint8Array ? Buffer.from(value).toString('base64') : value))));
    digests[name] = `${rows.length} ${hash.digest('hex')}`;
  }
  return digests;
}
