import { cpus } from 'node:os';
import { findDrifts } from '../../shared/weld/ahead/find-drifts.js';
import type { Drift } from '../../shared/weld/ahead/find-drifts.js';
import type { DriftingName } from '../../shared/weld/quantities.js';
import type { RunWindows, Window } from '../../shared/weld/procedure/run-windows.js';
import { noProcedure, runParameters } from '../../shared/weld/procedure/zone.js';
import { leavingTime } from './leaving-time.js';
import { noiseLevels, setPoints, simulatedWeld } from './simulated-weld.js';
import type { Noise, SetQuantity } from './simulated-weld.js';
import type { BurningRow } from '../weld/burning-rows.js';

/*
 * How well drifts are predicted before their limit: `npx tsx tests/bench/drift.ts [hours]` (40 h of steady welding for each case). The forecaster was tuned on
 * seeds below 500,000 (`tune` measures on such), and is measured on others. Each second it is asked with the rows of the last minute, as the service asks it.
 */

const tuning = process.argv.includes('tune');
const firstSeed = tuning ? 1 : 500_001;
const hours = Number(process.argv.slice(2).find((own) => /^[\d.]+$/.test(own)) ?? 40);
const runsEach = 30;

/** Half the width of the windows as a share of the set point: those that codes are often made into, and 20 % for heat input. */
const halfWidths = { current: 0.1, voltage: 0.07, wireFeedSpeed: 0.1, travelSpeed: 0.15, heatInput: 0.2 } as const satisfies Readonly<Partial<Record<DriftingName, number>>>;
type Drifting = keyof typeof halfWidths;
const quantities = Object.keys(halfWidths) as Drifting[];
const isDrifting = (name: string): name is Drifting => name in halfWidths;
const heatInput = (setPoints.current * setPoints.voltage * 60) / setPoints.travelSpeed / 1000;

/** The window whose middle lies `aside` half widths below the set point. */
function windowOf(quantity: Drifting, aside: number): Window {
  const set = quantity === 'heatInput' ? heatInput : setPoints[quantity];
  const half = set * halfWidths[quantity];
  return { min: set - half * (1 + aside), max: set + half * (1 - aside) };
}

function sumsWith(names: readonly Drifting[], aside: number): Parameters<typeof findDrifts>[1] {
  const windows = Object.fromEntries(names.map((name) => [name, windowOf(name, aside)]));
  const { current, voltage, wireFeedSpeed, travelSpeed, heatInput: heat } = windows;
  const judgedBy: RunWindows = {
    arcs: { 1: { ...(current && { current }), ...(voltage && { voltage }), ...(wireFeedSpeed && { wireFeedSpeed }) } },
    run: { ...(travelSpeed && { travelSpeed }), ...(heat && { heatInput: heat }) },
    smoothing: 1e6, onDelay: 1e6, offDelay: 3e6, deadband: 0.05, heatInputLength: 50,
  };
  return { parameters: runParameters(null, { ...noProcedure, windows: judgedBy }), ignitions: {} };
}

/** Asks once a second, with the last minute. */
function askEverySecond(rows: Iterable<BurningRow>, sums: Parameters<typeof findDrifts>[1], told: (now: number, drifts: readonly Drift[], newest: BurningRow) => void): void {
  const minute: BurningRow[] = [];
  for (const group of rows) {
    minute.push(group);
    if (minute.length > 1200) minute.splice(0, 600);
    if (group.run.index % 10 === 0 && group.run.index > 0) told((group.run.index + 1) / 10, findDrifts(minute.slice(-600), sums), group);
  }
}

function share(values: readonly number[], part: number): string {
  const sorted = [...values].sort((a, b) => a - b);
  const value = sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))];
  return value === undefined ? '-' : value.toFixed(Math.abs(value) < 10 ? 1 : 0);
}

const line = (...cells: (string | number)[]): void => {
  console.log(`| ${cells.map((cell, n) => (n === 0 ? String(cell).padEnd(24) : String(cell).padStart(9))).join(' | ')} |`);
};
const heading = (title: string, ...cells: string[]): void => {
  console.log(`\n${title}\n`);
  line('', ...cells);
  console.log(`|${['', ...cells].map(() => ' --- ').join('|')}|`);
};

interface Told {
  readonly lead: number;
  readonly error: number;
  readonly errorLength: number;
}

interface Outcome {
  readonly first: number | null;
  readonly told: readonly Told[];
  /** Share of the seconds between the first warning and the limit in which the warning stood. */
  readonly stood: number | null;
}

/** A quantity that is steady for 70 s and then drifts to its upper limit in `seconds`. Heat input by the current. */
function drifting(quantity: Drifting, seconds: number, noise: Noise, seed: number): Outcome {
  const moved: SetQuantity = quantity === 'heatInput' ? 'current' : quantity;
  const steady = 70;
  const factor = (name: SetQuantity, time: number): number => (name === moved && time > steady ? 1 + (halfWidths[quantity] * (time - steady)) / seconds : 1);
  const rows = [...simulatedWeld({ seed, noise, duration: steady + Math.ceil(seconds * 1.2), factor })];
  const leaves = leavingTime(rows, quantity, windowOf(quantity, 0));
  if (leaves === null) return { first: null, told: [], stood: null };
  const placeThen = rows[Math.floor(leaves * 10)]?.run.travelled ?? Number.NaN;
  const told: Told[] = [];
  let first: number | null = null;
  let asked = 0;
  askEverySecond(rows.slice(0, Math.floor(leaves * 10)), sumsWith([quantity], 0), (now, drifts, newest) => {
    if (now <= steady) return;
    const lead = leaves - now;
    const drift = drifts[0];
    if (drift !== undefined) {
      first ??= lead;
      const place = newest.run.travelled + newest.run.advance;
      told.push({ lead, error: drift.leavesIn - lead, errorLength: (drift.leavesAfter ?? Number.NaN) - (placeThen - place) });
    }
    if (first !== null) asked += 1;
  });
  return { first, told, stood: asked === 0 ? null : told.length / asked };
}

function measureDrifts(): void {
  const all = new Map<string, Told[]>();
  heading(
    `Drifts from the middle of the window to its limit, ${runsEach} each, all five quantities`,
    'told', 'ahead p10', 'median', 's ≥ 10 s', 'stood',
  );
  for (const [noise, levels] of Object.entries(noiseLevels)) {
    for (const seconds of [30, 45, 60, 120, 240]) {
      const outcomes = quantities.flatMap((quantity, q) => Array.from({ length: runsEach }, (_, n) => drifting(quantity, seconds, levels, firstSeed + n * 1000 + q * 100 + seconds)));
      const firsts = outcomes.flatMap(({ first }) => (first === null ? [] : [first]));
      const early = outcomes.filter(({ first }) => first !== null && first >= 10).length;
      const stood = outcomes.flatMap((own) => (own.stood === null ? [] : [own.stood]));
      const percent = (count: number): string => `${Math.round((100 * count) / outcomes.length)} %`;
      line(`${noise} noise, ${seconds} s`, percent(firsts.length), `${share(firsts, 0.1)} s`, `${share(firsts, 0.5)} s`, percent(early), `${Math.round((100 * stood.reduce((a, b) => a + b, 0)) / Math.max(1, stood.length))} %`);
      all.set(noise, [...(all.get(noise) ?? []), ...outcomes.flatMap(({ told }) => told)]);
    }
  }
  heading('Error of what was told, by how long before the limit', 'told', 's p50', 's p90', 'mm p50', 'mm p90', '% p50', '% p90', 'bias s');
  const bounds = [[5, 10], [10, 20], [20, 30], [30, 60]] as const;
  for (const [noise, told] of all) {
    for (const [low, high] of bounds) {
      const own = told.filter(({ lead }) => lead >= low && lead < high);
      const sizes = own.map(({ error }) => Math.abs(error));
      const lengths = own.map(({ errorLength }) => Math.abs(errorLength));
      const relative = own.map(({ error, lead }) => (100 * Math.abs(error)) / lead);
      line(`${noise} noise, ${low} to ${high} s`, own.length, share(sizes, 0.5), share(sizes, 0.9), share(lengths, 0.5), share(lengths, 0.9), share(relative, 0.5), share(relative, 0.9), share(own.map(({ error }) => error), 0.5));
    }
  }
}

/** Warnings begun while `factor` leads to no limit; one that comes back within 10 s is the same. */
function warnings(rows: Iterable<BurningRow>, aside: number, from: number): Map<Drifting, number> {
  const counts = new Map<Drifting, number>();
  const seen = new Map<Drifting, number>();
  askEverySecond(rows, sumsWith(quantities, aside), (now, drifts) => {
    if (now < from) return;
    for (const { quantity } of drifts) {
      if (!isDrifting(quantity)) continue;
      if (now - (seen.get(quantity) ?? -Infinity) > 10) counts.set(quantity, (counts.get(quantity) ?? 0) + 1);
      seen.set(quantity, now);
    }
  });
  return counts;
}

function measureSteady(): void {
  heading(`False warnings in ${hours} h of steady welding each`, ...quantities, 'per hour');
  let total = 0;
  let cases = 0;
  for (const [name, noise] of Object.entries(noiseLevels)) {
    for (const aside of name === 'high' ? [0] : [0, 0.5]) {
      const counts = warnings(simulatedWeld({ seed: firstSeed + cases, noise, duration: hours * 3600, factor: () => 1 }), aside, 0);
      const sum = [...counts.values()].reduce((a, b) => a + b, 0);
      line(`${name} noise, ${aside === 0 ? 'middle' : 'half way aside'}`, ...quantities.map((own) => counts.get(own) ?? 0), (sum / hours / quantities.length).toFixed(3));
      total += sum;
      cases += 1;
    }
  }
  console.log(`\nAltogether ${(total / (cases * hours * quantities.length)).toFixed(4)} an hour and quantity.`);
}

function measureSteps(): void {
  heading('Values set anew once (60 welds of 3 min each): welds with a warning', '30 % aside', '60 % aside');
  for (const [name, noise] of Object.entries(noiseLevels)) {
    const warned = [0.3, 0.6].map((aside) => {
      let count = 0;
      for (let n = 0; n < 60; n += 1) {
        const factor = (quantity: SetQuantity, time: number): number => (quantity === 'voltage' && time > 80 + (n % 7) ? 1 + halfWidths.voltage * aside : 1);
        if ((warnings(simulatedWeld({ seed: firstSeed + 7000 + n, noise, duration: 180, factor }), 0, 0).get('voltage') ?? 0) > 0) count += 1;
      }
      return count;
    });
    line(`${name} noise`, ...warned);
  }
}

console.log(`Node ${process.version}, ${cpus().length} cores; ${tuning ? 'seeds it was tuned on' : 'seeds it was not tuned on'}`);
measureDrifts();
measureSteady();
measureSteps();
