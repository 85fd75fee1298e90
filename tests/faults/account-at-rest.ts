import { setTimeout as wait } from 'node:timers/promises';
import { accountProblems } from '../ingest/accounted.js';
import { startProcess } from './service-process.js';

/** A stop folds waiting items for 5 s and leaves the rest to the next start; this is the most starts that a flood may need on a busy machine. */
const mostStarts = 4;

/** What is wrong with the accounting of a stopped service's store; what came of carriages that `flooded` may wait to be folded again for some more starts. */
export async function accountAtRest(dataDir: string, flooded: RegExp): Promise<string[]> {
  let problems = accountProblems(dataDir);
  for (let starts = 0; starts < mostStarts && problems.length > 0 && problems.every((line) => flooded.test(line)); starts += 1) {
    const service = startProcess({ dataDir });
    await service.listening;
    await wait(3_000);
    await service.kill('SIGTERM');
    problems = accountProblems(dataDir);
  }
  return problems;
}
