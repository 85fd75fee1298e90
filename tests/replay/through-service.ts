import { setTimeout as wait } from 'node:timers/promises';
import type { ExpectedRun } from './case-format.js';
import { atPath, differences } from './check-figures.js';
import { inOrder, listDifferences } from './check-lists.js';
import { caseStart, expandCase } from './expand-case.js';
import { caseSite, getJson, listed, runsOf, type ServiceAddress } from './case-answers.js';
import { makeProcedures, publishCase } from './publish-case.js';
import type { GoldenCase } from './read-cases.js';

async function profileDifferences(address: ServiceAddress, golden: GoldenCase, run: unknown): Promise<string[]> {
  if (golden.expected.profile === undefined) return [];
  const profile = await getJson(address, `/api/runs/${String(atPath(run, 'id'))}/profile?bin=10`);
  const travelled = atPath(profile, 'travelled');
  return golden.expected.profile.flatMap(({ travelled: at, ...expected }) => {
    const column = Array.isArray(travelled) ? travelled.indexOf(at) : -1;
    const found = Object.fromEntries(Object.keys(expected).map((name) => [name, atPath(profile, `${name}[${column}]`)]));
    return differences(found, expected, caseStart(golden.file)).map((line) => `profile at ${at} mm: ${line}`);
  });
}

async function runDifferences(address: ServiceAddress, run: unknown, expected: ExpectedRun, start: number): Promise<string[]> {
  const figures = differences(run, expected.figures, start);
  if (expected.excursions === null) return figures;
  const excursions = await listed(address, `/api/runs/${String(atPath(run, 'id'))}/excursions?limit=1000`);
  return [
    ...figures,
    ...differences(run, { excursions: expected.excursions.length }, start),
    ...listDifferences('excursion', inOrder(excursions, 'fromTime'), expected.excursions, start),
  ];
}

/** For `withdrawn`, a case only says whether there is a reason. Silence depends on the wall clock: on a busy machine nothing may be sent for 5 s. */
async function alarmDifferences(address: ServiceAddress, golden: GoldenCase, carriage: string): Promise<string[]> {
  if (golden.expected.alarms === null) return [];
  const alarms = (await listed(address, `/api/alarms?site=${caseSite}&carriage=${carriage}&limit=1000`)).filter((alarm) => atPath(alarm, 'quantity') !== 'noData');
  const told = inOrder(alarms, 'raisedAt').map((alarm) => ({ ...(alarm as object), withdrawn: atPath(alarm, 'withdrawn') !== null }));
  return listDifferences('alarm', told, golden.expected.alarms, caseStart(golden.file));
}

/**
 * Sends a case through a running service. Returns the number of its items, and the differences between its runs and alarms and those that the case
 * expects, a line each.
 */
export async function throughService(address: ServiceAddress, golden: GoldenCase): Promise<{ readonly items: number; readonly differ: readonly string[] }> {
  const messages = expandCase(golden.file);
  const carriage = `${golden.name.slice(0, 50)}-${Date.now().toString(36)}`;
  await makeProcedures(address, golden);
  const items = await publishCase(address, golden, carriage, messages);
  const found = async (): Promise<string[]> => {
    const runs = await runsOf(address, carriage);
    if (runs.length !== golden.expected.runs.length) return [`expected ${golden.expected.runs.length} runs, got ${runs.length}`];
    const start = caseStart(golden.file);
    const inRuns = await Promise.all(
      golden.expected.runs.map(async (expected, i) => (await runDifferences(address, runs[i], expected, start)).map((line) => `run ${i}: ${line}`)),
    );
    return [...inRuns.flat(), ...(await profileDifferences(address, golden, runs[0])), ...(await alarmDifferences(address, golden, carriage))];
  };
  // stored data need not be visible at once
  const deadline = Date.now() + 10_000;
  let differ = await found();
  while (differ.length > 0 && Date.now() < deadline) {
    await wait(200);
    differ = await found();
  }
  return { items, differ };
}
