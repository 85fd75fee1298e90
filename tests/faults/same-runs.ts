import type { Run } from '../../shared/api-types/run.js';
import { ask, getJson } from './ask-service.js';

export interface RunFace {
  readonly run: Run;
  readonly trace: unknown;
  /** The density of each arc; null where there is none. */
  readonly densities: unknown;
}

/** The density of each arc of a run, which is not found where no samples were close enough. */
async function densitiesOf(http: string, { id, arcs }: Run): Promise<unknown> {
  return Promise.all(arcs.map(async ({ arc }) => {
    const path = `/api/runs/${id}/density?arc=${arc}`;
    return (await ask(http + path)).status === 404 ? null : getJson(http, path);
  }));
}

/** Runs with their traces and densities, as deep as the API shows them. */
export async function withTraces(http: string, runs: readonly Run[]): Promise<RunFace[]> {
  return Promise.all(runs.map(async (run) => ({ run, trace: await getJson(http, `/api/runs/${run.id}/trace?axis=time&points=2000`), densities: await densitiesOf(http, run) })));
}

/** What a record says of itself and not of the welding. */
const ofTheRecord = new Set(['id', 'revisedAt', 'version']);

/** Where two sets of runs differ, a line each; `as` rewrites what is meant to differ, such as the carriage's name. */
export function runDifferences(expected: readonly RunFace[], found: readonly RunFace[], as: (text: string) => string = (text) => text): string[] {
  if (expected.length !== found.length) return [`expected ${expected.length} runs, found ${found.length}`];
  return expected.flatMap((own, i) => {
    const other = found[i];
    return [...differences(`runs[${i}]`, plain(own.run, as), plain(other?.run, as)), ...differences(`traces[${i}]`, own.trace, other?.trace), ...differences(`densities[${i}]`, own.densities, other?.densities)].slice(0, 8);
  });
}

function plain(run: Run | undefined, as: (text: string) => string): unknown {
  return JSON.parse(as(JSON.stringify(ofTheWelding(run ?? {}))));
}

/** What a record says of the welding alone. */
export function ofTheWelding(record: object): Record<string, unknown> {
  const own = Object.entries(record as Readonly<Record<string, unknown>>).filter(([name]) => !ofTheRecord.has(name));
  // Two carriages were not declared at the same instant.
  return Object.fromEntries(own.map(([name, value]) => [name, name === 'sensors' && isObject(value) ? { ...value, at: null } : value]));
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null;

/** Paths at which two JSON values differ, to the last bit of a number. */
export function differences(path: string, expected: unknown, found: unknown): string[] {
  if (isObject(expected) && isObject(found) && Array.isArray(expected) === Array.isArray(found)) {
    const names = new Set([...Object.keys(expected), ...Object.keys(found)]);
    return [...names].flatMap((name) => differences(`${path}.${name}`, expected[name], found[name]));
  }
  return Object.is(expected, found) ? [] : [`${path}: in order ${shown(expected)}, here ${shown(found)}`];
}

function shown(value: unknown): string {
  // What is not there has no JSON, whatever the types say.
  return ((JSON.stringify(value) as string | undefined) ?? 'nothing').slice(0, 120);
}
