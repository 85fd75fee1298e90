import { readFile } from 'node:fs/promises';
import type { Command } from 'commander';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { checkAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { exitCodes, wrongUsage } from './usage.js';

export interface AssignmentOptions {
  readonly seam?: string;
  readonly run?: number;
  readonly procedure?: string;
  /** Path of a JSON file. */
  readonly assignment?: string;
}

/** The assignment from the options, single options before those of the file; null if there is none. */
export async function readAssignmentOptions(command: Command, options: AssignmentOptions): Promise<Assignment | null> {
  const { assignment: file } = options;
  const own = Object.fromEntries((['seam', 'run', 'procedure'] as const).flatMap((name) => (options[name] === undefined ? [] : [[name, options[name]]])));
  if (file === undefined && Object.keys(own).length === 0) return null;
  const base = file === undefined ? {} : await readJsonObject(command, file);
  const checked = checkAssignment({ ...base, ...own });
  if (checked.ok) return checked.assignment;
  if (file !== undefined && !(checked.field in own)) {
    return command.error(`error: --assignment: ${file}: ${checked.reason}`, { exitCode: exitCodes.wrongUsage });
  }
  return command.error(`error: --${checked.field}: ${checked.reason.replace(`${checked.field}: `, '')}`, { exitCode: exitCodes.wrongUsage });
}

async function readJsonObject(command: Command, file: string): Promise<object> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return command.error(`error: --assignment: ${file}: cannot be read (${reason})`, { exitCode: exitCodes.failed });
  }
  try {
    const value: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value;
  } catch {
    // Falls through: text that is not JSON is refused like JSON of another kind.
  }
  return wrongUsage(command, '--assignment', file, 'a file that holds one JSON object with at least seam and run');
}
