import { accountProblems } from '../ingest/accounted.js';
import { seededRandom } from '../model/seeded-random.js';
import { awaitMark, expectedMark, runsOf, until } from './ask-service.js';
import { carriagePlan, planStyles, type PlannedMessage, type PlannedRun } from './carriage-plan.js';
import { checkKept, keptItems } from './kept-items.js';
import { runDifferences, withTraces, type RunFace } from './same-runs.js';
import { createSender, type Sender, type SenderOptions } from './sender.js';
import { scratchDir, startProcess, type Addresses } from './service-process.js';

/** The site of carriages that are judged; others may be there beside them. */
export const judgedSite = 'faults';

export interface Carriage {
  readonly name: string;
  readonly sender: Sender;
  readonly runs: readonly PlannedRun[];
}

/** What is left to judge of a carriage: what it was to weld, what it sent, and what it may rely on. */
export type Judged = Omit<Carriage, 'sender'> & { readonly sender: Pick<Sender, 'sent' | 'acknowledged'> };

/** One carriage of each style; each begins one run after the other until `finishing`, and then ends the one it is at. */
export function endlessCarriages(seed: number, finishing: () => boolean, options: (name: string) => Partial<SenderOptions> = () => ({})): Carriage[] {
  return planStyles.map((style, index) => {
    const name = `${style}-1`;
    const plan = carriagePlan(`seam-${name}`, style, seededRandom(seed + index));
    const runs: PlannedRun[] = [];
    const queue: PlannedMessage[] = [];
    const next = (): PlannedMessage | null => {
      if (queue.length === 0 && (!finishing() || runs.length === 0)) {
        const run = plan();
        runs.push(run);
        queue.push(...run.messages);
      }
      return queue.shift() ?? null;
    };
    return { name, runs, sender: createSender({ site: judgedSite, carriage: name, next, burst: style === 'block' ? 2 : 6, ...options(name) }) };
  });
}

export function itemsAcknowledged(carriages: readonly Judged[]): Map<string, string> {
  return new Map(carriages.flatMap(({ sender }) => [...sender.acknowledged]));
}

/** The runs of every carriage once the marks cover all that was sent and every run is finished. */
export async function settledRuns({ http, mqtt }: Addresses, carriages: readonly Judged[], seconds = 30): Promise<RunFace[][]> {
  const all: RunFace[][] = [];
  for (const { name, sender, runs } of carriages) {
    const seqs = sender.sent.flatMap(({ items }) => items.map(({ seq }) => seq));
    await awaitMark(mqtt, judgedSite, name, [expectedMark('b1', seqs)], seconds);
    await until(`${runs.length} finished runs of ${name}`, async () => (await runsOf(http, judgedSite, name)).filter(({ state }) => state === 'finished').length >= runs.length, seconds);
    all.push(await withTraces(http, await runsOf(http, judgedSite, name)));
  }
  return all;
}

/** What the plan alone says of the runs: their names, their samples, that nothing is missing and nothing was late. */
export function checkRuns(carriages: readonly Judged[], found: readonly RunFace[][]): string[] {
  return carriages.flatMap(({ name, runs }, i) => {
    const own = found[i] ?? [];
    if (own.length !== runs.length) {
      const there = own.map(({ run }) => `${String(run.seam)}/${String(run.run)} attempt ${run.attempt} from ${run.startedAt}`);
      return [`${name}: ${runs.length} runs were sent, ${own.length} are there: ${there.join(', ')}`];
    }
    return runs.flatMap(({ seam, run, samples, restarts }, k) => {
      const record = own[k]?.run;
      const wrong: string[] = [];
      if (record?.seam !== seam || record.run !== run) wrong.push(`is ${String(record?.seam)}/${String(record?.run)}`);
      if (record?.complete !== true || record.identity !== 'full' || record.clock !== 'steady') wrong.push(`complete ${String(record?.complete)}, identity ${String(record?.identity)}, clock ${String(record?.clock)}`);
      if (record?.restarts.length !== restarts) wrong.push(`${String(record?.restarts.length)} restarts instead of ${restarts}`);
      if (record?.version !== 1) wrong.push(`version ${String(record?.version)}, but no item was late`);
      for (const [arc, count] of samples) {
        const counted = record?.arcs.find((one) => one.arc === arc)?.samples;
        if (counted !== count) wrong.push(`arc ${arc} counts ${String(counted)} samples instead of ${count}`);
      }
      return wrong.map((line) => `${name} ${seam}/${run}: ${line}`);
    });
  });
}

/** Every acknowledged item is in the store once; call it when the carriages have nothing left to send. */
export function checkItems(dataDir: string, carriages: readonly Judged[]): string[] {
  const acknowledged = itemsAcknowledged(carriages);
  const kept = keptItems(dataDir, judgedSite);
  return [...checkKept(kept, acknowledged), ...(kept.size === acknowledged.size ? [] : [`${acknowledged.size} items were sent and acknowledged, ${kept.size} are stored`])];
}

/** The same, and every stored item of the folder is in the figures: nobody may wait to be folded again. */
export function checkStore(dataDir: string, carriages: readonly Judged[]): string[] {
  return [...checkItems(dataDir, carriages), ...accountProblems(dataDir)];
}

/** Sends the same messages, in order and once, to a fresh service that is left alone; tells where its runs differ. */
export async function againstUndisturbed(carriages: readonly Judged[], found: readonly RunFace[][]): Promise<string[]> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  try {
    const addresses = await service.listening;
    const again = carriages.map(({ name, runs, sender }): Carriage => {
      const queue = [...sender.sent];
      return { name, runs, sender: createSender({ site: judgedSite, carriage: name, next: () => queue.shift() ?? null, burst: 200 }) };
    });
    await Promise.all(again.map(({ sender }) => sender.run(() => addresses.mqtt)));
    const inOrder = await settledRuns(addresses, again);
    return again.flatMap(({ name }, i) => runDifferences(inOrder[i] ?? [], found[i] ?? []).map((line) => `${name}: ${line}`));
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}
