import { damageError, fileOf } from '../../shared/sqlite/damage.js';
import type { KeptMessage } from './kept-pack.js';
import { packKind, packMessages, unpackMessages } from './kept-pack.js';
import type { KeptRow, Statements } from './statements.js';
import type { StreamState } from './stream-state.js';

/** Positions within one kept message: its items' numbers of arrival are its own times this, plus the position. */
export const arrivalsPerMessage = 1024;

/** Bytes of payload from which what was gathered is written: one blob stays about as small as the largest message may be. */
const packAtBytes = 1024 * 1024;

/** The number given to a message last. It rises over restarts and over what was dropped; one that was never committed may be left out. */
export interface KeptNumbers {
  last: number;
}

export function keptNumbers(statements: Statements): KeptNumbers {
  return { last: statements.lastNumber.get()?.seq ?? 0 };
}

/**
 * Keeps a message: it is gathered and written with the others of its stream, before the commit and before anything reads
 * them back. What a failed transaction gathered goes with the stream's state.
 */
export function keepMessage(stream: StreamState, message: KeptMessage, statements: Statements): void {
  if (stream.gatheredBytes + message.payload.length > packAtBytes) writeKept(stream, statements);
  stream.gathered.push(message);
  stream.gatheredBytes += message.payload.length;
}

/** Writes what was gathered: a row for all, with its sum, for one alone too. Earlier versions wrote a message alone as it came. */
export function writeKept(stream: StreamState, statements: Statements): void {
  const { gathered } = stream;
  const first = gathered[0];
  const last = gathered.at(-1);
  if (first === undefined || last === undefined) return;
  stream.gathered = [];
  stream.gatheredBytes = 0;
  statements.keep.run(last.number, stream.id, first.arrived, packKind, packMessages(gathered), first.number);
}

/** The messages of a stream that are kept from that number on, in order. */
export function keptFrom(stream: StreamState, number: number, statements: Statements): KeptMessage[] {
  writeKept(stream, statements);
  return statements.keptFrom.all(stream.id, number).flatMap((row) => messagesIn(stream, row, statements)).filter((message) => message.number >= number);
}

/** The number of the oldest message that is kept; undefined where there is none. */
export function oldestKept(stream: StreamState, statements: Statements): number | undefined {
  return statements.firstKept.get(stream.id, 0)?.first;
}

/** Lets go of the messages before that number, of `most` rows at a time. */
export function dropKept(stream: StreamState, before: number, most: number, statements: Statements): void {
  statements.dropKept.run(stream.id, before, most);
  // What is left tells whether all is there from the beginning on, so a pack that goes on past the number is cut to the message.
  const across = statements.firstKept.get(stream.id, before);
  if (across === undefined || across.first >= before) return;
  const row = statements.keptFrom.get(stream.id, before);
  const rest = row === undefined ? [] : messagesIn(stream, row, statements).filter(({ number }) => number >= before);
  const first = rest[0];
  if (first !== undefined) statements.cutKept.run(first.arrived, packKind, packMessages(rest), first.number, across.id);
}

function messagesIn({ site, carriage }: StreamState, row: KeptRow, { db }: Statements): KeptMessage[] {
  try {
    return messagesOf(row);
  } catch (thrown) {
    throw damageError(fileOf(db), `what is kept of ${site}/${carriage}`, thrown);
  }
}

export function messagesOf(row: KeptRow): KeptMessage[] {
  if (row.first !== null) return unpackMessages(row.payload, row.first, row.kind !== 'pack');
  const taken = row.taken === null ? null : (JSON.parse(row.taken) as number[]);
  return [{ number: row.id, arrived: row.arrived, kind: row.kind === 'senml' ? 'senml' : 'readings', payload: row.payload, taken }];
}
