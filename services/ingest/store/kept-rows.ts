import { damageError, fileOf } from '../../../shared/sqlite/damage.js';
import type { Carriage } from '../fold/carriage.js';
import { unpackMessages, type KeptMessage } from '../fold/message-log-format.js';
import type { KeptRow, Statements } from './statements.js';

/** The kept messages of a stream from a number on, in order. Throws an error of damage if any cannot be read. */
export function keptFrom({ id, site, carriage }: Pick<Carriage, 'id' | 'site' | 'carriage'>, number: number, statements: Statements): KeptMessage[] {
  const messages = statements.keptFrom.all(id, number).flatMap((row) => {
    try {
      return messagesOf(row);
    } catch (thrown) {
      throw damageError(fileOf(statements.db), `what is kept of ${site}/${carriage}`, thrown);
    }
  });
  return messages.filter((message) => message.number >= number);
}

export function messagesOf(row: KeptRow): KeptMessage[] {
  if (row.first !== null) return unpackMessages(row.payload, row.first, row.kind !== 'pack');
  const taken = row.taken === null ? null : (JSON.parse(row.taken) as number[]);
  return [{ number: row.id, arrived: row.arrived, kind: row.kind === 'senml' ? 'senml' : 'readings', payload: row.payload, taken }];
}
