import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Run } from '../../shared/api-types/run.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { awaitMark, expectedMark, getJson, runsOf, until } from './ask-service.js';
import type { SentItem } from './kept-items.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'clock';
const minute = 60_000;

export const clockFaults = ['right', 'hour ahead', 'hour behind', 'year 1970', 'year 2106', 'steps back', 'steps back often', 'creeps back', 'stands still', 'no time', 'no time in between'] as const;
type ClockFault = (typeof clockFaults)[number];

interface ClockCase {
  readonly fault: ClockFault;
  readonly items: readonly SentItem[];
  /** s that the arc burns when all intervals are the device's own, 100 ms each; null where arrival times decide. */
  readonly arcTime: number | null;
  readonly clock: Run['clock'];
}

/** Readings at 10 Hz, lit from the first to the one before the zeros, with a clock that is wrong in one way. */
function clockCase(fault: ClockFault, random: Random): ClockCase {
  const count = random.whole(60, 250);
  const zeros = 8;
  const now = Date.now() - 10 * minute;
  const base: Partial<Record<ClockFault, number>> = { 'hour ahead': now + 60 * minute, 'hour behind': now - 60 * minute, 'year 1970': 0, 'year 2106': Date.UTC(2106, 11, 31, 23, 0) };
  const first = base[fault] ?? now;
  const steps = new Set(Array.from({ length: fault === 'steps back' ? 1 : 6 }, () => random.whole(3, count - 1)));
  const untimed = new Set(Array.from({ length: 5 }, () => random.whole(3, count - 1)));
  let back = 0;
  const items = Array.from({ length: count + zeros }, (_, seq): SentItem => {
    const on = seq < count;
    if ((fault === 'steps back' || fault === 'steps back often') && steps.has(seq)) back += random.pick([200, 5_000, 60 * minute, 24 * 60 * minute]);
    // A clock that is set back by a little more than goes by: every time is before the one before.
    if (fault === 'creeps back' && seq > 2) back += 101;
    if (fault === 'stands still' && seq > 2) back += 100;
    const time = first + seq * 100 - back;
    const timed = fault !== 'no time' && !(fault === 'no time in between' && untimed.has(seq));
    return { boot: 'b1', seq, ...(timed ? { time } : {}), current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 600 : 0 };
  });
  const stepped = ['steps back', 'steps back often', 'creeps back', 'stands still'].includes(fault);
  const byArrival = fault.startsWith('no time');
  return { fault, items, arcTime: byArrival ? null : count / 10, clock: byArrival ? 'arrival' : stepped ? 'stepped' : 'steady' };
}

/** Every duration, length of a gap and step of a trace that is negative, by its path. */
function negatives(run: Run, trace: { arcs: { arc: number; at: number[] }[] }): string[] {
  const found: string[] = [];
  const spans: (readonly [string, string, string | null])[] = [
    ['run', run.startedAt, run.endedAt],
    ...run.dataGaps.map((gap, i) => [`dataGaps[${i}]`, gap.fromTime, gap.toTime] as const),
    ...run.restarts.map((restart, i) => [`restarts[${i}]`, restart.stoppedAt, restart.restartedAt] as const),
  ];
  for (const [name, from, to] of spans) if (to !== null && Date.parse(to) < Date.parse(from)) found.push(`${name} goes from ${from} to ${to}`);
  const numbers = { duration: run.duration, arcTime: run.arcTime, length: run.length, energy: run.energy, weldArcTime: run.weldZone.arcTime, ...run.lengths };
  for (const [name, value] of Object.entries(numbers)) if (value !== null && value < 0) found.push(`${name} is ${value}`);
  for (const arc of run.arcs) if ((arc.arcTime ?? 0) < 0 || (arc.energy ?? 0) < 0) found.push(`arc ${arc.arc}: arcTime ${String(arc.arcTime)}, energy ${String(arc.energy)}`);
  for (const { arc, at } of trace.arcs) {
    at.forEach((time, i) => {
      if (time < (at[i - 1] ?? 0)) found.push(`trace of arc ${arc}: ${String(at[i - 1])} s, then ${time} s`);
    });
  }
  return found;
}

function checkCase({ fault, items, arcTime, clock }: ClockCase, runs: readonly Run[], trace: Parameters<typeof negatives>[1]): string[] {
  const [run, ...more] = runs;
  if (run === undefined || more.length > 0) return [`${runs.length} runs instead of one`];
  const problems = negatives(run, trace);
  if (run.clock !== clock) problems.push(`clock ${run.clock} instead of ${clock}`);
  if (run.complete !== (clock !== 'arrival')) problems.push(`complete ${run.complete} with clock ${run.clock}`);
  if (run.arcs[0]?.samples !== items.filter(({ current }) => current !== 0).length) problems.push(`${String(run.arcs[0]?.samples)} samples`);
  if (arcTime !== null) {
    // 600 A · 30 V is 18 kW, 600 mm/min is 10 mm/s.
    for (const [name, value, expected] of [['arcTime', run.arcTime, arcTime], ['energy', run.energy, 18 * arcTime], ['length', run.length, 10 * arcTime]] as const) {
      if (value === null || Math.abs(value - expected) > 1e-6) problems.push(`${name} ${String(value)} instead of ${expected}`);
    }
    const first = Number(items[0]?.['time']);
    if (Date.parse(run.startedAt) !== first) problems.push(`startedAt ${run.startedAt}: device times are never replaced`);
  }
  return problems.map((line) => `${fault}: ${line}`);
}

/** `cases` carriages with wrong clocks; each fault in turn. */
export async function clockScenario(cases: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  try {
    const addresses = await service.listening;
    const random = seededRandom(seed);
    const client = await mqtt.connectAsync(addresses.mqtt, { clientId: 'clocks' });
    const made = Array.from({ length: cases }, (_, i) => ({ carriage: `c${i}`, ...clockCase(clockFaults[i % clockFaults.length] ?? 'right', random) }));
    const problems: string[] = [];
    for (const { carriage, items } of made) {
      const publish = (kind: string, payload: string): Promise<unknown> => client.publishAsync(`weld/${site}/${carriage}/${kind}`, payload, { qos: 1 });
      await publish('assignment', JSON.stringify({ seam: carriage, run: 1 }));
      await Promise.all(items.map((item) => publish('readings', JSON.stringify(item))));
      await publish('assignment', '');
    }
    for (const own of made) {
      await awaitMark(addresses.mqtt, site, own.carriage, [expectedMark('b1', own.items.map(({ seq }) => seq))]);
      let runs: Run[] = [];
      await until(`the run of ${own.carriage} (${own.fault}) to be finished`, async () => (runs = await runsOf(addresses.http, site, own.carriage)).some(({ state }) => state === 'finished'), 10);
      const trace = (await getJson(addresses.http, `/api/runs/${runs[0]?.id ?? ''}/trace?axis=time&points=2000`)) as Parameters<typeof negatives>[1];
      problems.push(...checkCase(own, runs, trace).map((line) => `${own.carriage}: ${line}`));
    }
    await client.endAsync();
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'wrong clocks', seed, counted: `${cases} carriages, ${clockFaults.length} kinds of clock`, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}
