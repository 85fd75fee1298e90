import type { FaultRow } from './fault-rows.js';
import { seedFrom, type Outcome } from './outcome.js';

/** One row of the table of results. */
export interface FaultCount {
  readonly row: FaultRow;
  readonly done: number;
  readonly lost: number;
  readonly twice: number;
  /** Broken promises of any other kind. */
  readonly other: number;
  readonly seconds: number;
  /** Pieces that failed: what replays them. */
  readonly failing: readonly { readonly seed: number; readonly count: number }[];
}

/** Does `goal` of one fault, piece by piece, and tells of each piece; every piece has a seed of its own from `seed` (or a new one) on. */
export async function countFault(row: FaultRow, goal: number, seed: number | null, tell: (line: string) => void): Promise<FaultCount> {
  const begun = Date.now();
  const problems: string[] = [];
  const failing: { seed: number; count: number }[] = [];
  let next = seed ?? seedFrom();
  for (let done = 0; done < goal; done += row.piece) {
    const count = Math.min(row.piece, goal - done);
    const own = next;
    const outcome = await row.run(count, own).catch((error: unknown): Outcome => ({ scenario: row.name, seed: own, counted: 'broken off', problems: [error instanceof Error ? error.message : String(error)] }));
    tell(`${row.name}: ${outcome.counted}, seed ${own}${outcome.problems.slice(0, 20).map((line) => `\n  ${line}`).join('')}`);
    if (outcome.problems.length > 0) {
      failing.push({ seed: own, count });
      tell(`  again: npm run faults -- --only '${row.name}' --count ${count} --seed ${own}`);
    }
    problems.push(...outcome.problems);
    // Repeats and alarm signals count their seeds up one by one.
    next += row.piece;
  }
  const counted = (kind: string): number => problems.filter((line) => line.startsWith(`${kind}: `)).length;
  const [lost, twice] = [counted('lost'), counted('twice')];
  return { row, done: goal, lost, twice, other: problems.length - lost - twice, seconds: (Date.now() - begun) / 1_000, failing };
}

/** The table, in Markdown. */
export function faultTable(counts: readonly (FaultCount | FaultRow)[]): string {
  const lines = counts.map((own) => {
    if (!('row' in own)) return [own.name, own.how, `left out: ${own.leftOut ?? 'not asked for'}`, '–', '–', '–', '–', '–'];
    const { row, done, lost, twice, other, seconds, failing } = own;
    const items = (count: number): string => (row.countsItems ? String(count) : '–');
    return [row.name, row.how, String(done), items(lost), items(twice), String(other), seconds.toFixed(0), failing.map(({ seed, count }) => `${seed} (${count})`).join(', ') || '–'];
  });
  const head = ['fault', 'how it is made', 'count', 'lost', 'twice', 'other', 'seconds', 'failing seed (its count)'];
  return [head, head.map((_name, at) => (at >= 2 && at <= 6 ? '---:' : '---')), ...lines].map((cells) => `| ${cells.join(' | ')} |`).join('\n');
}
