import { join } from 'node:path';
import { expect } from 'vitest';
import { checkItems } from '../../services/account/check-items.js';
import { openReader } from '../../shared/records/open-database.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';

/** The errors in the accounting of a data folder's items, a line each; runs that ended at most `lateFor` µs ago are computed again. */
export function accountProblems(folder: string, { now = Date.now() * 1e3, lateFor = 900e6, settings = defaultWeldSettings }: { now?: number; lateFor?: number; settings?: WeldSettings } = {}): string[] {
  const db = openReader(join(folder, 'seamwarden.db'));
  try {
    const { problems, uncounted } = checkItems(db, { settings, decidedBefore: now - lateFor });
    return [...problems, ...uncounted.map((name) => `${name}: not counted`)].map((line) => `account: ${line}`);
  } finally {
    db.close();
  }
}

export function expectAccounted(folder: string, options: { now?: number; lateFor?: number } = {}): void {
  expect(accountProblems(folder, options)).toEqual([]);
}
