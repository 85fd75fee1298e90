import { writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { commitOf, loadNow } from '../bench/machine-facts.js';
import { countFault, faultTable, type FaultCount } from './count-fault.js';
import { faultRows, type FaultRow } from './fault-rows.js';

/**
 * `npm run faults -- [--share 0.1] [--only NAME] [--count N] [--seed N] [--write]`: the long counts of every fault, or a share of those that can be shared, or
 * of those whose name has NAME in it. Prints a line for each piece of work as it ends and one table at the end, and exits with 1 where a
 * promise was broken. `--count` and `--seed` replay a piece that failed; `--write` puts the table into RESULTS.md.
 */
const usage = '--share expects a share above 0 such as 0.1, --count and --seed whole numbers from 1, --only a part of a name';
const { values } = parseArgs({
  options: { share: { type: 'string' }, only: { type: 'string' }, count: { type: 'string' }, seed: { type: 'string' }, write: { type: 'boolean' } },
});

function numberOf(text: string | undefined, whole: boolean): number | null {
  if (text === undefined) return null;
  const value = Number(text);
  if (!(value > 0) || (whole && !Number.isSafeInteger(value))) throw new RangeError(`got ${JSON.stringify(text)}: ${usage}`);
  return value;
}

const share = numberOf(values.share, false) ?? 1;
const count = numberOf(values.count, true);
const seed = numberOf(values.seed, true);
const only = values.only ?? '';
const rows = faultRows.filter(({ name }) => name.includes(only));
if (rows.length === 0) throw new RangeError(`--only ${only}: there are ${faultRows.map(({ name }) => name).join('; ')}`);

const asked = process.argv.slice(2).filter((word) => word !== '--write').map((word) => (/^[\w.-]+$/.test(word) ? word : `'${word}'`));
const made = `Made by \`${['npm run faults -- --write', ...asked].join(' ')}\` on ${new Date().toISOString().slice(0, 10)}, commit ${commitOf()}, on ${cpus().length} cores of ${cpus()[0]?.model ?? 'an unknown processor'},
${(totalmem() / 2 ** 30).toFixed(0)} GiB, Node ${process.versions.node}; load ${loadNow()} as it began. [README.md](README.md) explains the columns.`;

const table: (FaultCount | FaultRow)[] = [];
for (const row of rows) {
  if (row.leftOut !== null) console.log(`${row.name}: left out, ${row.leftOut}`);
  table.push(row.leftOut !== null ? row : await countFault(row, count ?? (row.whole === true ? row.total : Math.max(1, Math.ceil(row.total * share))), seed, console.log));
  // After each row: a run of hours that is broken off leaves what it has counted.
  const missing = rows.slice(table.length).map(({ name }) => name);
  const note = missing.length === 0 ? '' : `\nBroken off; not counted: ${missing.join(', ')}.\n`;
  if (values.write === true) writeFileSync(fileURLToPath(new URL('RESULTS.md', import.meta.url)), `# Results of the long counts\n\n${made}\n\n${faultTable(table)}\n${note}`);
}
console.log(`\n${faultTable(table)}`);
process.exit(table.some((own) => 'row' in own && own.failing.length > 0) ? 1 : 0);
