import { itemCounts } from '../faults/ask-service.js';
import { startProcess, type Addresses, type ServiceProcess } from '../faults/service-process.js';
import { assignmentOf, carriageName, procedure, site } from './bench-messages.js';

export interface AssignedService {
  readonly process: ServiceProcess;
  readonly addresses: Addresses;
}

async function write(method: 'POST' | 'PUT', url: string, body: object): Promise<void> {
  const response = await fetch(url, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  if (!response.ok) throw new Error(`${method} ${url} answered ${response.status}: ${await response.text()}`);
}

/** A service whose carriages each have a run to weld by a procedure with windows, so that everything there is gets computed. */
export async function assignedService(dataDir: string, carriages: number, env: Readonly<Record<string, string>> = {}): Promise<AssignedService> {
  const process = startProcess({ dataDir, env });
  const addresses = await process.listening;
  await write('POST', `${addresses.http}/api/procedures`, { ...procedure, by: 'bench' });
  for (let index = 0; index < carriages; index += 1) {
    await write('PUT', `${addresses.http}/api/carriages/${site}/${carriageName(index)}/assignment`, assignmentOf(index));
  }
  return { process, addresses };
}

/** Items stored so far, out of the service's own metrics. */
export async function storedItems({ http }: Addresses): Promise<number> {
  const { stored, duplicate, refused } = await itemCounts(http);
  if (duplicate + refused > 0) throw new Error(`${duplicate} items were duplicates and ${refused} refused; none should be`);
  return stored;
}
