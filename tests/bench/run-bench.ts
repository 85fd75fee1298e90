import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { BenchOptions, BenchPart } from './bench-part.js';
import { ensureBuilt } from './built-service.js';
import { cpu } from './cpu.js';
import { disk } from './disk.js';
import { embedded } from './embedded.js';
import { live } from './live.js';
import { commitOf, loadNow, machineFacts } from './machine-facts.js';
import { outside } from './outside.js';
import { peer } from './peer.js';
import { factsText, partText, sectionsOf } from './show-tables.js';
import { slowSync } from './slow-sync.js';
import { trace } from './trace.js';

/*
 * How fast it is: `npm run bench`, `npm run bench -- --only cpu --rounds 3 --write`. README.md beside this file says what is measured.
 */

const parts: Readonly<Record<string, BenchPart>> = { outside, embedded, cpu, 'slow-sync': slowSync, trace, disk, live, peer };
const results = new URL('RESULTS.md', import.meta.url);
const usualRounds = 3;

function numberFrom(name: string, text: string, least: number): number {
  const value = Number(text);
  if (!(value >= least)) throw new Error(`--${name}: got ${JSON.stringify(text)}, expected a number from ${least}`);
  return value;
}

function readOptions(): { readonly names: readonly string[]; readonly write: boolean; readonly options: BenchOptions } {
  const { values } = parseArgs({
    options: {
      only: { type: 'string', multiple: true, default: [] },
      rounds: { type: 'string', default: String(usualRounds) },
      scale: { type: 'string', default: '1' },
      large: { type: 'boolean', default: false },
      write: { type: 'boolean', default: false },
    },
  });
  const wrong = values.only.filter((name) => !Object.hasOwn(parts, name));
  if (wrong.length > 0) throw new Error(`--only: got ${wrong.join(', ')}, expected ${Object.keys(parts).join(', ')}`);
  return {
    names: Object.keys(parts).filter((name) => values.only.length === 0 || values.only.includes(name)),
    write: values.write,
    options: {
      rounds: Math.round(numberFrom('rounds', values.rounds, 1)),
      scale: numberFrom('scale', values.scale, 0.001),
      large: values.large,
      say: (text) => { console.error(text); },
    },
  };
}

async function main(): Promise<void> {
  const { names, write, options } = readOptions();
  ensureBuilt(options.say);
  const facts = factsText(machineFacts());
  console.log(`${facts}\n`);
  const sections = write && existsSync(results) ? sectionsOf(readFileSync(results, 'utf8')) : new Map<string, string>();
  for (const name of names) {
    const load = loadNow();
    const begun = performance.now();
    const tables = await parts[name]?.(options);
    const took = ((performance.now() - begun) / 1e3).toFixed(0);
    const scaledBy = options.scale === 1 ? '' : ` Counts scaled by ${options.scale}: no figures to quote.`;
    const stamp = `${new Date().toISOString().slice(0, 16).replace('T', ' ')} UTC, commit ${commitOf()}, ${options.rounds} rounds, load of the machine before: ${load}, took ${took} s.${scaledBy}`;
    const text = partText(name, stamp, tables ?? []);
    console.log(`${text}\n`);
    sections.set(name, text);
  }
  if (!write) return;
  const inOrder = Object.keys(parts).flatMap((name) => sections.get(name) ?? []);
  const head = 'Made by `npm run bench -- --write`. README.md explains what is measured, and the goals. Figures are medians, with the least and the greatest of the rounds.';
  writeFileSync(results, `${['# Results', head, facts, ...inOrder].join('\n\n')}\n`);
}

await main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
});
