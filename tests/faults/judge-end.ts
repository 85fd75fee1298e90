import { againstUndisturbed, checkRuns, checkStore, settledRuns, type Judged } from './endless-carriage.js';
import type { Addresses, ServiceProcess } from './service-process.js';

/**
 * What is wrong when carriages have nothing left to send: marks and runs that do not come, runs that are not what was planned, items
 * that are lost or there twice, runs that differ from those of a service that was left alone. Ends the service.
 */
export async function judgeEnd(service: ServiceProcess, addresses: Addresses, dataDir: string, carriages: readonly Judged[], seconds: number): Promise<string[]> {
  const problems: string[] = [];
  const found = await settledRuns(addresses, carriages, seconds).catch((error: unknown) => {
    problems.push(`not settled: ${error instanceof Error ? error.message : String(error)}; the service said: ${service.stderr().slice(-2_000)}`);
    return null;
  });
  if (found !== null) problems.push(...checkRuns(carriages, found));
  if (service.stderr().includes('"level":50')) problems.push(`the service complained: ${service.stderr().slice(0, 1_500)}`);
  await service.kill('SIGTERM');
  // Whatever the service says of it, the items themselves are looked for.
  problems.push(...checkStore(dataDir, carriages));
  if (found !== null) problems.push(...(await againstUndisturbed(carriages, found)));
  return problems;
}
