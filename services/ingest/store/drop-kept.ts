import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { packKind, packMessages } from '../fold/message-log-format.js';
import type { KeptRow } from './statements.js';
import { messagesOf } from './kept-rows.js';

/** Deletes a stream's messages before a number, at most `most` rows at a time. */
export function keptDropper(db: SqliteFile): (stream: number, before: number, most: number) => void {
  const drop = db.prepare<[number, number, number]>('delete from kept where id in (select id from kept where stream_id = ? and id < ? order by id limit ?)');
  const next = db.prepare<[number, number], KeptRow>('select id, arrived, kind, payload, taken, first from kept where stream_id = ? and id >= ? order by id limit 1');
  const cut = db.prepare<[number, string, Uint8Array, number, number]>('update kept set arrived = ?, kind = ?, payload = ?, first = ? where id = ?');
  return (stream, before, most) => {
    drop.run(stream, before, most);
    // The messages left must show that none is missing from the start, so a pack that extends past the number is cut at the message.
    const across = next.get(stream, before);
    if (across === undefined || (across.first ?? across.id) >= before) return;
    const rest = readable(across).filter(({ number }) => number >= before);
    const first = rest[0];
    if (first !== undefined) cut.run(first.arrived, packKind, packMessages(rest), first.number, across.id);
  };
}

/** A pack that cannot be read stays as it is: an error is raised when its messages are needed. */
function readable(row: KeptRow): ReturnType<typeof messagesOf> {
  try {
    return messagesOf(row);
  } catch {
    return [];
  }
}
