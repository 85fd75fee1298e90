import { damageError, fileOf } from '../../../shared/sqlite/damage.js';
import { unpackMessages, type KeptMessage } from '../fold/message-log-format.js';
import type { KeptRow, Statements } from './statements.js';

/** The id by which the kept messages of a stream are found, and its name for errors. */
export interface KeptOf {
  readonly id: number;
  readonly site: string;
  readonly carriage: string;
}

/** The kept messages of a stream from a number on, in order. Throws an error of damage if any cannot be read. */
export function keptFrom({ id, site, carriage }: KeptOf, number: number, statements: Statements): KeptMessage[] {
  const messages = statements.keptFrom.all(id, number).flatMap((row) => {
    try {
      return messagesOf(row);
    } catch (thrown) {
      throw damageError(fileOf(statements.db), `what is kept of ${site}/${carriage}`, thrown);
    }
  });
  return messages.filter((message) => message.number >= number);
}

/** Whether any message of a stream is kept. */
export function isAnyKept(stream: number, statements: Statements): boolean {
  return statements.firstKept.get(stream, 0) !== undefined;
}

export function messagesOf(row: KeptRow): KeptMessage[] {
  if (row.first !== null) return unpackMessages(row.payload, row.first, row.kind !== 'pack');
  const taken = row.taken === null ? null : (JSON.parse(row.taken) as number[]);
  return [{ number: row.id, arrived: row.arrived, kind: row.kind === 'senml' ? 'senml' : 'readings', payload: row.payload, taken }];
}
