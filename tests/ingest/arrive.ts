import { runDueWork } from '../../services/ingest/writer/run-due-work.js';
import { declareSensors } from '../../services/ingest/writer/declare-sensors.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { dropOld } from '../../services/ingest/fold/fold-stream.js';
import { refoldInTurn } from '../../services/ingest/writer/refold-turns.js';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import type { OpenStreams } from './open-streams.js';

/** The site of these tests: every carriage sends on `weld/hall/CARRIAGE/…`. */
export const hall = 'hall';

/** Makes one commit, and the next one in which late items are folded again: messages are stored, and everything due is done. */
export function commit(own: OpenStreams, work: () => void): void {
  own.db.exec('begin immediate');
  work();
  for (let again: Iterable<Carriage> | null = []; again !== null; ) {
    runDueWork(own.streams(), () => undefined, Infinity, again);
    const folded = refoldInTurn(own.streams(), own.now / 1e3);
    again = folded.size === 0 ? null : folded;
  }
  own.db.exec('commit');
}

/** Declares the sensors of a carriage, in a commit of its own; nothing where none are given. */
export function declare(own: OpenStreams, carriage: string, sensors: Sensors | null): void {
  if (sensors !== null) commit(own, () => { declareSensors(own.streams().stream(hall, carriage, ''), sensors, 'qa', own.streams().fold); });
}

/** Folds what waits and writes the records of every stream in memory. */
export function finishAll(own: OpenStreams): void {
  commit(own, () => {
    for (const carriage of own.streams().all.values()) {
      own.streams().finish(carriage);
    }
  });
}

/** Drops everything from which no run can be revised any more; call it within a commit. */
export function dropAll(own: OpenStreams): void {
  for (const carriage of own.streams().all.values()) dropOld(carriage, own.streams().fold, 2_000);
}

/** Acts as if the process was killed: only what was committed is left, and it is read again. */
export function killed(own: OpenStreams): void {
  own.restart();
  commit(own, () => { own.streams().loadLive(); own.streams().loadMore(Infinity); });
}

export interface StoredRun {
  readonly id: string;
  readonly seam: string | null;
  readonly run: number | null;
  readonly attempt: number;
  readonly state: string;
  readonly version: number;
  readonly arcTime: number;
  readonly energy: number;
  readonly length: number;
  readonly [figure: string]: unknown;
}

/** The stored records of a carriage's runs, in the order in which they began. */
export function storedRuns(own: OpenStreams, carriage: string): StoredRun[] {
  return own.db.prepare<[string, string], { record: string }>('select record from runs where site = ? and carriage = ? order by started, id').all(hall, carriage)
    .map(({ record }) => JSON.parse(record) as StoredRun);
}

/** The stored densities of a run by arc, as the API answers them: one without a cell is none. */
export function storedDensities(own: OpenStreams, run: string): Record<string, unknown> {
  const rows = own.db.prepare<[string], { arc: number; cells: string }>("select arc, cells from densities where run_id = ? and cells <> '[]' order by arc").all(run);
  return Object.fromEntries(rows.map(({ arc, cells }) => [arc, JSON.parse(cells) as unknown]));
}
