import { atPath } from './check-figures.js';

export interface ServiceAddress {
  readonly http: string;
  readonly mqtt: string;
}

/** Every case is published under this site. */
export const caseSite = 'replay';

export async function getJson(address: ServiceAddress, path: string): Promise<unknown> {
  const response = await fetch(`${address.http}${path}`);
  if (!response.ok) throw new Error(`GET ${path} answered ${response.status}: ${await response.text()}`);
  return response.json();
}

/** All entries of a list; no case has more than a page of them. */
export async function listed(address: ServiceAddress, path: string): Promise<readonly unknown[]> {
  const page = await getJson(address, path);
  const items = atPath(page, 'items');
  if (!Array.isArray(items) || atPath(page, 'next') !== null) throw new Error(`${path} answered no single page of items`);
  return items as readonly unknown[];
}

/** The runs of a carriage in the order in which they began. */
export async function runsOf(address: ServiceAddress, carriage: string): Promise<unknown[]> {
  const list = await listed(address, `/api/runs?site=${caseSite}&carriage=${carriage}&limit=1000`);
  const begun = (run: unknown): number => Date.parse(String(atPath(run, 'startedAt')));
  return [...list].sort((a, b) => begun(a) - begun(b));
}
