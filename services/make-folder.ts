import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Creates a folder and those above it, one by one: Node's own recursive call never ends below a folder that answers as if it were not there,
 * such as /proc. Throws the system's error if one cannot be created.
 */
export function makeFolder(path: string): void {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found?.isDirectory() === true) return;
  if (found !== undefined) throw new Error(`${path} is no folder`);
  if (dirname(path) !== path) makeFolder(dirname(path));
  try {
    mkdirSync(path);
  } catch (error) {
    // Another process may have been quicker.
    if (statSync(path, { throwIfNoEntry: false })?.isDirectory() !== true) throw error;
  }
}
