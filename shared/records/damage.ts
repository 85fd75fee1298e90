import { damageError, isDamageError, reasonOf, wayBack } from '../sqlite/damage.js';
import { sqliteCode, sqliteCodes } from '../sqlite/sqlite-error.js';

/** The error that a start breaks off with, naming the file; where the file is damaged, with the way back. */
export function openingError(file: string, thrown: unknown): Error {
  const reason = reasonOf(thrown);
  // A schema that can not be parsed, or that lacks what every version has, is told as an error of the statement.
  const damaged = tellsDamage(thrown) || sqliteCode(thrown) === sqliteCodes.error;
  return new Error(`${file}: ${reason}${damaged ? `: the store is damaged: ${wayBack}` : ''}`, { cause: thrown });
}

/** Whether SQLite itself found the file damaged. */
function tellsDamage(thrown: unknown): boolean {
  const code = sqliteCode(thrown);
  return code === sqliteCodes.corrupt || code === sqliteCodes.notADatabase;
}

/** What to tell of an error that comes from a damaged store; null where it does not. */
export function damageTold(thrown: unknown): string | null {
  if (isDamageError(thrown)) return thrown.message;
  return tellsDamage(thrown) ? `SQLite says "${reasonOf(thrown)}": the store is damaged: ${wayBack}` : null;
}

/** What `read` makes of a record's text; an error of damage where that is none any more. */
export function readStored<Value>(what: string, text: string, read: (value: unknown) => Value): Value {
  try {
    return read(JSON.parse(text));
  } catch (thrown) {
    throw damageError('seamwarden.db', what, thrown);
  }
}
