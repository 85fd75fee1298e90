import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { CaseFile, ExpectedFile } from './case-format.js';

export interface GoldenCase {
  readonly name: string;
  readonly file: CaseFile;
  readonly expected: ExpectedFile;
}

const folder = fileURLToPath(new URL('./cases/', import.meta.url));

/** Every folder under `cases` is one case. */
export function readCases(): GoldenCase[] {
  const names = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return names.sort().map((name) => ({
    name,
    file: JSON.parse(readFileSync(`${folder}${name}/case.json`, 'utf8')) as CaseFile,
    expected: JSON.parse(readFileSync(`${folder}${name}/expected.json`, 'utf8')) as ExpectedFile,
  }));
}
