import { damageError, isDamageError, reasonOf, remedy } from '../sqlite/damage.js';
import { sqliteCode, sqliteCodes } from '../sqlite/sqlite-error.js';

/** The error with which a start fails, naming the file; if the file is damaged, with the remedy. */
export function openingError(file: string, thrown: unknown): Error {
  const reason = reasonOf(thrown);
  // A schema that cannot be parsed, or that lacks what every version has, is reported as an error of the statement.
  const damaged = tellsDamage(thrown) || sqliteCode(thrown) === sqliteCodes.error;
  return new Error(`${file}: ${reason}${damaged ? `: the store is damaged: ${remedy}` : ''}`, { cause: thrown });
}

/** Whether SQLite itself found the file damaged. */
function tellsDamage(thrown: unknown): boolean {
  const code = sqliteCode(thrown);
  return code === sqliteCodes.corrupt || code === sqliteCodes.notADatabase;
}

/** The message for an error that comes from a damaged store; null for any other error. */
export function damageMessage(thrown: unknown): string | null {
  if (isDamageError(thrown)) return thrown.message;
  return tellsDamage(thrown) ? `SQLite says "${reasonOf(thrown)}": the store is damaged: ${remedy}` : null;
}

/** The record that `read` parses from its text; an error of damage if it can no longer be read. */
export function readStored<Value>(what: string, text: string, read: (value: unknown) => Value): Value {
  try {
    return read(JSON.parse(text));
  } catch (thrown) {
    throw damageError('seamwarden.db', what, thrown);
  }
}
