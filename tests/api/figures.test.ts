import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { runFiguresSchema, type RunFigureAnswer } from '../../shared/api-types/figures.js';
import { recorderByHand, type RecorderByHand } from '../ingest/recorder-by-hand.js';
import { openStreams } from '../ingest/open-streams.js';
import { storeBefore } from '../records/store-before/open-store.js';
import { readCases } from '../replay/read-cases.js';
import { sendToRecorder } from '../replay/send-to-recorder.js';
import { wrongInFigure } from '../weld/figures/check-figure.js';
import { fakePort } from './fake-port.js';
import { serveApi, startApi } from './start-api.js';

/** Numbers of a run that are no figures of it: its numbers and counts of the record, what was declared or entered, and what the sensors were. */
const noFigures = [/^(run|attempt|version)$/, /^(assignment|procedure|preparation|origin|sensors|temperatures|temperatureChecks)\./, /\breasons\./, /^(arcs|restarts|weldZone\.arcs)\.\d+\.arc$/];

/** Paths of all numbers below a part, with arcs by number and other entries from 1 on. */
function numbersIn(part: unknown, path: readonly string[] = []): string[] {
  if (typeof part === 'number') return [path.join('.')];
  if (Array.isArray(part)) return part.flatMap((own: unknown, place) => numbersIn(own, [...path, path.at(-1) === 'arcs' ? String((own as { arc: number }).arc) : String(place + 1)]));
  return typeof part === 'object' && part !== null ? Object.entries(part).flatMap(([name, own]) => numbersIn(own, [...path, name])) : [];
}

type AnsweredRun = Readonly<Record<string, unknown>> & { readonly id: string };

async function answered<T>(url: string): Promise<T> {
  const response = await fetch(url);
  expect([url, response.status]).toEqual([url, 200]);
  return (await response.json()) as T;
}

/** Checks the figures of every run that a service has. */
async function figuresOfAll(url: string): Promise<{ readonly run: AnsweredRun; readonly items: readonly RunFigureAnswer[] }[]> {
  const { items: runs } = await answered<{ readonly items: AnsweredRun[] }>(`${url}/api/runs?limit=1000`);
  expect(runs.length).toBeGreaterThan(0);
  const all = [];
  for (const { id } of runs) {
    const run = await answered<AnsweredRun>(`${url}/api/runs/${id}`);
    const { items } = runFiguresSchema.parse(await answered(`${url}/api/runs/${id}/figures`));
    expect(items.flatMap(wrongInFigure)).toEqual([]);
    const figures = new Map(items.map((own) => [own.name, own]));
    const numbers = numbersIn(run).filter((path) => !noFigures.some((own) => own.test(path)));
    expect(numbers.filter((path) => !figures.has(path)), 'numbers of a run that are not defined').toEqual([]);
    for (const path of numbers) expect(figures.get(path)?.value, path).not.toBeNull();
    all.push({ run, items });
  }
  return all;
}

const formulas = (items: readonly RunFigureAnswer[]): Record<string, string> => Object.fromEntries(items.flatMap(({ name, formula }) => (formula === null ? [] : [[name, formula]])));

/** Golden cases with one arc, two arcs, alternating current, restarts, gaps, no travel, no assignment, a run under a burning arc, and procedures. */
const recorded = ['01', '02', '03', '04', '08', '09', '10', '12', '24', '32', '39', '65', '70', '100'];

describe('figures of runs as they were recorded', () => {
  let own: RecorderByHand;
  let api: Awaited<ReturnType<typeof serveApi>>;

  beforeEach(async () => {
    own = recorderByHand();
    api = await serveApi(join(own.folder, 'seamwarden.db'), { port: fakePort(own.db) });
  });
  afterEach(async () => {
    await api.close();
    own.close();
  });

  it.each(readCases().filter(({ name }) => recorded.includes(name.split('-')[0] ?? '')))('$name: every number has its figure, and its inputs in its formula give it', async (golden) => {
    await sendToRecorder(own, golden);
    for (const { run, items } of await figuresOfAll(api.url)) {
      const known = formulas(items);
      if (run['heatInput'] !== null) expect(known['heatInput']).toBe('arcEnergy * thermalEfficiency');
      if ((run['arcs'] as unknown[]).length === 2 && run['arcEnergy'] !== null) expect(known['arcEnergy']).toBe('energy1 / length1 + energy2 / length2');
    }
  });

  it('a run that is being welded has figures too', async () => {
    own.send(Date.UTC(2026, 10, 25), 0, 300);
    const [first] = await figuresOfAll(api.url);
    expect(first?.run).toMatchObject({ state: 'welding', assigned: false });
    // 600 A, 30 V, 550 mm/min: 1.963636 kJ/mm, printed as approx. 20 kJ/cm in a lecture text on submerged arc welding.
    expect(first?.items[0]).toMatchObject({ name: 'heatInput', value: expect.closeTo(1.963636, 6) as number, unit: 'kJ/mm', grade: 'P', absent: null });
  });
});

it('figures of runs that an earlier program recorded', async () => {
  const own = openStreams(undefined, {}, storeBefore());
  const api = await serveApi(join(own.folder, 'seamwarden.db'), { port: fakePort(own.db) });
  expect(await figuresOfAll(api.url)).toHaveLength(6);
  // Stored before there were a weld zone and wire feed speeds: worked out from the rows.
  own.db.exec("update runs set record = json_remove(record, '$.weldZone', '$.arcs[0].wireFeedSpeed'), record_sum = null, row_sum = null");
  expect(await figuresOfAll(api.url)).toHaveLength(6);
  await api.close();
  own.close();
});

it('an unknown run is not found', async () => {
  const api = await startApi();
  expect((await fetch(`${api.url}/api/runs/none/figures`)).status).toBe(404);
  await api.stop();
});
