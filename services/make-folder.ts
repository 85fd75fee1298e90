import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Makes a folder and those above it. One by one: Node's own recursive call never ends below a folder that answers as if it were not there,
 * such as /proc. Throws the system's error where one cannot be made.
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
