import type { ChangeSet, CheckpointChange, Drop, ImportChange, RunChange } from '../../../shared/records/change-set.js';
import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { sqliteTraceWriter } from '../../../shared/traces/sqlite-traces.js';
import { systemClock } from '../clock.js';
import { summedRows } from './summed-rows.js';
import { keptDropper } from './drop-kept.js';

export interface ChangeWriter {
  /**
   * Writes the changes in one transaction, which is on the disk when this returns; if it fails, it leaves nothing behind and throws. Returns how long
   * the disk took to sync it, µs.
   */
  readonly apply: (changes: ChangeSet) => number;
  /** The same within the caller's transaction. */
  readonly write: (changes: ChangeSet) => void;
}

/** Tables that belong to a stream, in the order in which they refer to each other. */
const ofStream = ['checkpoints', 'kept', 'time_marks', 'boots', 'assignments', 'sensors', 'taken_assignments', 'temperatures', 'runs', 'imports'] as const;
/** How many assignments from an outside broker are remembered for each stream. */
const takenKept = 1_000;

/** Applies the changes of a commit, list by list; the only place that writes to the store. */
export function changeWriter(db: SqliteFile, steady = systemClock.steady): ChangeWriter {
  const rows = summedRows(db);
  const applyTrace = sqliteTraceWriter(db);
  const dropKept = keptDropper(db);
  const begin = db.prepare('begin immediate');
  const commit = db.prepare('commit');
  const shiftCheckpoints = db.prepare<[number]>('update checkpoints set created = created + ?');
  const clampCheckpoints = db.prepare<[number, number]>('update checkpoints set created = ? where created > ?');
  const addTime = db.prepare<[number, number, number]>('insert into time_marks (stream_id, arc, time) values (?, ?, ?)');
  const addTaken = db.prepare<[number, string]>('insert into taken_assignments (stream_id, message) values (?, ?)');
  const trimTaken = db.prepare<[number, number]>(`delete from taken_assignments where stream_id = ? and number <= (select number from taken_assignments where stream_id = ? order by number desc limit 1 offset ${takenKept})`);
  const keep = db.prepare<[id: number, stream: number, arrived: number, kind: string, payload: Uint8Array, first: number]>('insert into kept (id, stream_id, arrived, kind, payload, first) values (?, ?, ?, ?, ?, ?)');
  const addCheckpoint = db.prepare<[number, number, string, number, number, Uint8Array]>('insert into checkpoints (id, stream_id, position, kept_from, created, state) values (?, ?, ?, ?, ?, ?)');
  const dropCheckpoint = db.prepare<[number]>('delete from checkpoints where id = ?');
  const placeCheckpoint = db.prepare<[position: string, state: Uint8Array | null, id: number]>('update checkpoints set position = ?, state = coalesce(?, state) where id = ?');
  const dropDensities = db.prepare<[run: string, exceptFor: string]>('delete from densities where run_id = ? and arc not in (select value from json_each(?))');
  const dropRun = db.prepare<[string]>('delete from runs where id = ?');
  const dropExcursions = db.prepare<[run: string, from: number]>('delete from excursion_pieces where run_id = ? and piece >= ?');
  const refuse = db.prepare<[number, string, string, number, Uint8Array]>('insert into refused (received, topic, reason, size, head) values (?, ?, ?, ?, ?)');
  const addImport = db.prepare<[number, number, string | null, string | null, number | null]>(
    'insert into imports (stream_id, at, file, "by", zero) values (?, ?, ?, ?, ?) on conflict (stream_id) do update set zero = excluded.zero',
  );
  const endImport = db.prepare<[string, number | null, number]>('update imports set runs = ?, finished = ? where stream_id = ?');
  const trimTimes = db.prepare<[number, number, number, number, number]>(
    'delete from time_marks where stream_id = ? and arc = ? and time < (select time from time_marks where stream_id = ? and arc = ? order by time desc limit 1 offset ?)',
  );
  const trimRefused = db.prepare<[number]>('delete from refused where id <= (select max(id) from refused) - ?');
  const forget = [...ofStream.map((table) => db.prepare<[number]>(`delete from ${table} where stream_id = ?`)), db.prepare<[number]>('delete from streams where id = ?')];
  const probe = db.prepare<[number]>('insert into probe (id, written) values (1, ?) on conflict (id) do update set written = excluded.written');

  function writeCheckpoint(change: CheckpointChange): void {
    if ('drop' in change) dropCheckpoint.run(change.drop);
    else if ('stream' in change) addCheckpoint.run(change.number, change.stream, change.position, change.keptFrom, change.created, change.state);
    else placeCheckpoint.run(change.position, change.state, change.number);
  }

  function writeRun(change: RunChange): void {
    if ('rewrite' in change) rows.rewriteRun(change.rewrite);
    else if ('whole' in change) rows.saveRun(change.whole);
    else if ('drop' in change) dropRun.run(change.drop);
    else rows.finishedAt(change.finished, change.id);
  }

  function writeImport(change: ImportChange): void {
    if ('at' in change) addImport.run(change.stream, change.at, change.file, change.by, change.zero);
    else endImport.run(change.runs, change.finished, change.stream);
  }

  function drop(own: Drop): void {
    if ('kept' in own) dropKept(own.kept, own.before, own.most);
    else if ('times' in own) trimTimes.run(own.times, own.arc, own.times, own.arc, own.keep);
    else if ('refused' in own) trimRefused.run(own.refused);
    else for (const statement of forget) statement.run(own.stream);
  }

  function write(changes: ChangeSet): void {
    for (const step of changes.clockSteps) {
      shiftCheckpoints.run(step);
      rows.shiftHeard(step);
    }
    if (changes.newestCheckpoint !== null) clampCheckpoints.run(changes.newestCheckpoint, changes.newestCheckpoint);
    for (const own of changes.streams) rows.saveStream(own);
    for (const { stream, arc, time } of changes.times) addTime.run(stream, arc, time);
    for (const { stream, message } of changes.taken) {
      addTaken.run(stream, message);
      trimTaken.run(stream, stream);
    }
    for (const { number, stream, arrived, kind, payload, first } of changes.kept) keep.run(number, stream, arrived, kind, payload, first);
    for (const own of changes.boots) rows.saveBoot(own);
    for (const own of changes.assignments) rows.saveAssignment(own);
    for (const own of changes.sensors) rows.addSensors(own);
    for (const own of changes.checkpoints) writeCheckpoint(own);
    for (const own of changes.runs) writeRun(own);
    for (const own of changes.excursions) {
      if ('piece' in own) rows.saveExcursions(own.run, own.piece, own.list);
      else dropExcursions.run(own.run, own.from);
    }
    for (const own of changes.densities) {
      if ('cells' in own) rows.saveDensity(own);
      else dropDensities.run(own.run, JSON.stringify(own.exceptFor));
    }
    for (const own of changes.alarms) rows.saveAlarm(own);
    for (const own of changes.late) rows.addLate(own);
    for (const { received, topic, reason, size, head } of changes.refused) refuse.run(received, topic, reason, size, head);
    for (const own of changes.procedures) rows.addProcedure(own);
    for (const own of changes.jobChanges) rows.addJobChange(own);
    for (const own of changes.temperatures) rows.saveTemperature(own);
    for (const own of changes.imports) writeImport(own);
    for (const own of changes.traces) applyTrace(own);
    for (const own of changes.drops) drop(own);
    if (changes.probe !== null) probe.run(changes.probe);
  }

  return {
    write,
    apply: (changes) => {
      try {
        begin.run();
        write(changes);
        const begun = steady();
        commit.run();
        return steady() - begun;
      } catch (thrown) {
        // SQLite rolls back by itself after some errors, but not all.
        if (db.isTransaction) db.exec('rollback');
        throw thrown;
      }
    },
  };
}
