import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { listAnswer } from '../../services/api/route.js';
import { openingError } from '../../shared/records/damage.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';

let folder: string;
beforeEach(() => { folder = mkdtempSync(join(tmpdir(), 'seamwarden-damage-')); });
afterEach(() => { rmSync(folder, { recursive: true, force: true }); });

function openingOf(file: string): string {
  try {
    migrate(openWriter(file), []);
    return 'opened';
  } catch (thrown) {
    return openingError(file, thrown).message;
  }
}

test('a store that is no database is told with its file and the way back', () => {
  const other = join(folder, 'other.db');
  writeFileSync(other, Buffer.alloc(40_000, 'x'));
  expect(openingOf(other)).toMatch(new RegExp(`^${other}: .*damaged: stop the service, copy`));
});

test('a record that is no JSON is left out of a list and counted', () => {
  const { text } = listAnswer(['{"id":"a"}', '{"id":"b', '{"id":"c"}'], null) as { text: string };
  expect(JSON.parse(text)).toEqual({ items: [{ id: 'a' }, { id: 'c' }], next: null, unreadable: 1 });
});
