import { existsSync, statSync } from 'node:fs';
import { mkdtemp, rmdir } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { openingError } from '../../shared/records/damage.js';
import { checkVersion } from '../../shared/records/migrate.js';
import { openReader, type SqliteFile } from '../../shared/records/open-database.js';
import { remedy } from '../../shared/sqlite/damage.js';
import { checkItems, type ItemReport } from '../account/check-items.js';
import type { Settings } from '../settings.js';
import { note, ok, reasonOf, wrong, type Finding } from './broker-check/finding.js';

/** The most problems named one by one; the number of further ones follows. */
const mostNamed = 20;
/** While the service runs, figures follow their items within seconds, so differences are looked at a second time. */
const looks = 4;
const betweenLooksMs = 1_500;

/** The data folder: whether it is writable, whether its store is whole, and where every item of it is. Changes nothing, and creates no folder. */
export async function checkDataDir(settings: Settings): Promise<Finding[]> {
  const { dataDir } = settings;
  const writable = await takesWrites(resolve(dataDir));
  const file = join(dataDir, 'seamwarden.db');
  if (writable.state === 'wrong' || !existsSync(file)) return [writable];
  return [writable, ...(await checkStore(file, settings))];
}

async function takesWrites(dataDir: string): Promise<Finding> {
  let there = dataDir;
  while (!existsSync(there) && dirname(there) !== there) there = dirname(there);
  const told = there === dataDir ? dataDir : `${dataDir} is not there, and ${there}`;
  try {
    if (!statSync(there).isDirectory()) return wrong(`SEAMWARDEN_DATA_DIR: ${told} is no folder`);
    await rmdir(await mkdtemp(join(there, '.seamwarden-check-')));
  } catch (thrown) {
    return wrong(`SEAMWARDEN_DATA_DIR: ${told} cannot be written to: ${reasonOf(thrown)}`);
  }
  return ok(`SEAMWARDEN_DATA_DIR: ${there === dataDir ? `${dataDir} can be written to` : `${dataDir} is not there; the first start makes it in ${there}`}`);
}

async function checkStore(file: string, { weld, lateFor }: Settings): Promise<Finding[]> {
  let db: SqliteFile | null = null;
  try {
    db = openReader(file);
    checkVersion(db);
    const damage = db.prepare<[], { integrity_check: string }>('pragma integrity_check(20)').all().map((row) => row.integrity_check);
    if (damage[0] !== 'ok') return damage.map((line) => wrong(`${file}: ${line}`)).concat(note(`${file}: ${remedy}`));
    let report = checkItems(db, { settings: weld, decidedBefore: Date.now() * 1e3 - lateFor });
    for (let look = 1; look < looks && report.problems.length > 0; look += 1) {
      await wait(betweenLooksMs);
      report = checkItems(db, { settings: weld, decidedBefore: Date.now() * 1e3 - lateFor });
    }
    return [ok(`${file}: SQLite finds no damage`), ...told(report)];
  } catch (thrown) {
    return [wrong(openingError(file, thrown).message)];
  } finally {
    db?.close();
  }
}

function told({ carriages, stored, late, uncounted, problems }: ItemReport): Finding[] {
  const more = problems.length - mostNamed;
  return [
    ...problems.slice(0, mostNamed).map(wrong),
    ...(more > 0 ? [wrong(`and ${more} more of this kind`)] : []),
    ...(uncounted.length > 0 ? [note(`not counted, since an earlier version wrote them and they were not read since: ${uncounted.slice(0, mostNamed).join(', ')}${uncounted.length > mostNamed ? ' …' : ''}`)] : []),
    ...(problems.length === 0 ? [ok(`each of ${stored} items of ${carriages} carriages and logs is in the figures or on a list of late items (${late})`)] : []),
  ];
}
