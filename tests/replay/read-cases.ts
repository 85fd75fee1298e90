import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { CaseFile, Expected, ExpectedFigures, ExpectedFile, ExpectedRun } from './case-format.js';

export interface GoldenCase {
  readonly name: string;
  readonly file: CaseFile;
  readonly expected: ExpectedFile;
}

/** As in `expected.json`: the list of excursions is among the figures. */
interface WrittenExpected extends Omit<ExpectedFile, 'runs' | 'alarms'> {
  readonly runs: readonly Readonly<Record<string, Expected | readonly ExpectedFigures[]>>[];
  readonly alarms?: readonly ExpectedFigures[];
}

const isList = (value: Expected | readonly ExpectedFigures[]): value is readonly ExpectedFigures[] => Array.isArray(value);

function expectedRun(written: WrittenExpected['runs'][number]): ExpectedRun {
  const { excursions } = written;
  const figures = Object.entries(written).flatMap(([path, value]) => (isList(value) ? [] : [[path, value] as const]));
  return { figures: Object.fromEntries(figures), excursions: excursions !== undefined && isList(excursions) ? excursions : null };
}

function readExpected(path: string): ExpectedFile {
  const { runs, alarms, ...rest } = JSON.parse(readFileSync(path, 'utf8')) as WrittenExpected;
  return { ...rest, runs: runs.map(expectedRun), alarms: alarms ?? null };
}

const folder = fileURLToPath(new URL('./cases/', import.meta.url));

/** Every folder under `cases` is one case. */
export function readCases(): GoldenCase[] {
  const names = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return names.sort().map((name) => ({
    name,
    file: JSON.parse(readFileSync(`${folder}${name}/case.json`, 'utf8')) as CaseFile,
    expected: readExpected(`${folder}${name}/expected.json`),
  }));
}
