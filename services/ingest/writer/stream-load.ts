import { assignmentSum, bootSum, rowAsWritten, runSum, streamSum } from '../../../shared/records/row-sum.js';
import { readMeasurement } from '../../../shared/records/temperatures.js';
import { isDamageError } from '../../../shared/sqlite/damage.js';
import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import type { Anchor, TimelineEntry } from '../../../shared/weld/run/assignment-timeline.js';
import { sensorRevision } from '../../../shared/records/sensors.js';
import { assignmentAt, epochInForce } from '../../../shared/weld/run/turn-series.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { emptyTally, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import { startAlarmBook } from '../fold/alarm-book.js';
import type { Carriage } from '../fold/carriage.js';
import { foldContext, pinEarlier, type FoldDeps } from '../fold/fold-deps.js';
import { startCarriageFold } from '../fold/fold-state.js';
import { addBoot, mostTemperatures, noMarks, startIntake, type Intake } from '../fold/intake.js';
import { foldedTemperature } from '../fold/run-temperature.js';
import { noteMark, startOutbox } from '../fold/outbox.js';
import { startRunBook, type RunEntry, type SavedSpan } from '../fold/run-book.js';
import type { AlarmRow, AssignmentRow, RunRow, Statements, StreamRow } from '../store/statements.js';
import { ensurePass, ensureProcedure, ensureSeam } from './gather-names.js';
import { readNewest } from './gather-alarms.js';
import { bringMarksForward, storedMarks } from './stored-marks.js';
import { noteStored } from '../fold/stored-alarms.js';
import { reading } from '../store/summed-rows.js';

/** Reports, in words, which part of a stream differs from what was written. */
export type TellDamage = (what: string) => void;

/** How many runs of a stream are read: those that began last. */
const runsRead = 200;

/**
 * Reads a stream's marks, assignments and runs; its fold is at the start and has to be brought up to date. If any of it differs from what was
 * written, that is reported and the stream has a fault from the beginning: what comes is kept, and what is stored stays as it is.
 */
export function loadStream(statements: Statements, site: string, carriage: string, stream: string, fold: FoldDeps, tell: TellDamage = () => undefined): Carriage {
  const now = fold.now();
  const found = statements.findStream.get(site, carriage, stream);
  const id = found?.id ?? (fold.numbers.stream += 1);
  const name = `${site}/${carriage}`;
  let fault: string | null = null;
  const sound = <Result>(what: string, read: () => Result, otherwise: Result): Result => {
    try {
      return reading(`${what} of ${name}`, read);
    } catch (thrown) {
      if (!isDamageError(thrown)) throw thrown;
      fault ??= thrown.message;
      tell(thrown.message);
      return otherwise;
    }
  };
  const row = found === undefined ? null : sound('what was told last', () => streamRow(statements, id, name), null);
  const lastSeen = row?.last_seen ?? null;
  const intake = startIntake({
    origin: stream === '' ? null : (statements.importOf.get(id) ?? null),
    online: row === null || row.online === null ? null : row.online === 1,
    // If the clock was set back since, the stored time would lie in the future.
    lastSeen: lastSeen === null ? null : Math.min(lastSeen, now),
    clockOffset: row?.clock_offset ?? null, messageAt: found === undefined ? now : (row?.heard ?? null), retired: row?.retired === 1,
  });
  const runs = startRunBook();
  const outbox = startOutbox({ settled: found === undefined ? null : row?.settled === 1, snapshot: row?.snapshot ?? null });
  const own: Carriage = {
    id, site, carriage, stream, kind: stream === '' ? 'live' : 'log',
    intake, runs,
    fold: startCarriageFold(foldContext(intake.timeline, intake.sensors, runs, fold, (epoch, begin) => foldedTemperature(own, epoch, begin, fold))), alarms: startAlarmBook(), outbox,
  };
  const through = loadBoots(intake, id, statements, sound);
  const noted = (alarm: AlarmRow): AlarmFacts => {
    const facts = JSON.parse(alarm.facts) as AlarmFacts;
    noteStored(own.alarms.stored, facts, alarm.state, alarm.number);
    return facts;
  };
  own.alarms.atHand = sound('the alarms', () => statements.lastingAlarms.all(id, id).map(noted), []);
  own.alarms.cleared = statements.clearedAlarms.get(id)?.count ?? 0;
  sound('the alarms', () => { readNewest(own.alarms.stored, id, statements); }, undefined);
  if (intake.boots.size > 0) noteMark(outbox);
  sound('what is kept', () => { bringMarksForward(own, through, statements); }, undefined);
  intake.temperatures = sound('the measured temperatures', () => statements.temperaturesOf.all(id, mostTemperatures).reverse().map(readMeasurement), []);
  for (const stored of sound('the assignments', () => statements.assignments.all(id), [])) {
    intake.assignments += 1;
    const entry = sound('an assignment', () => readAssignment(stored), null);
    if (entry === null) continue;
    intake.timeline.push(entry);
    intake.assignmentPlaces.push(intake.assignments - 1);
    ensureNamed(entry.body, statements, fold);
  }
  for (const stored of sound('the sensors', () => statements.sensors.all(id), [])) intake.sensors.push(sensorRevision(stored));
  const rows = sound('the runs', () => statements.runsOf.all(id, runsRead), []);
  if (rows.length === runsRead) runs.olderOrdinal = statements.leastOrdinal.get(id)?.ordinal ?? null;
  for (const run of rows) {
    const span = sound(`run ${run.id}`, () => JSON.parse(rowAsWritten(`run ${run.id} of ${name}`, run, runSum).span) as SavedSpan, null);
    if (span === null) continue;
    if (run.override !== null) ensureNamed(JSON.parse(run.override) as Assignment, statements, fold);
    if (run.finished !== null) runs.cut.add(run.id);
    runs.tails.add(run.id);
    runs.entries.set(span.ordinal, storedEntry(run, span, now));
    if (run.finished === null || now - run.finished <= fold.lateFor) {
      own.alarms.stored.ofRuns.set(run.id, sound('the alarms', () => statements.alarmsOfRun.all(run.id).map(noted), []));
    }
    // A revision that came with a later assignment does not say by which one the run was welded.
    if (run.override === null) runs.pinned.set(span.epoch, span.revision);
  }
  pinEarlier(runs.pinned, intake.timeline, own.fold.context);
  own.fold.fault = fault;
  return own;
}

/** The entry of a stored run; if the clock was set back since, the time at which it was finished would lie in the future. */
export function storedEntry({ id, attempt, version, finished, override, seam, run }: RunRow, span: SavedSpan, now: number): RunEntry {
  return {
    ...span, id, attempt, version, finished: finished === null ? null : Math.min(finished, now), override,
    revise: false, recorded: true, listed: null, excursions: null, pass: seam === null || run === null ? null : { seam, run }, under: null,
  };
}

/** Reads what depends on the names in an assignment. */
export function ensureNamed(assignment: Assignment | null, statements: Statements, fold: FoldDeps): void {
  if (assignment === null) return;
  if (assignment.turnIsRun === true) ensureSeam(assignment.seam, statements, fold.passes);
  ensurePass(assignment, statements, fold.passes);
  if (assignment.procedure !== undefined) ensureProcedure(assignment.procedure, statements, fold.procedures);
}

/** The row of a stream. Throws an error of damage if it differs from what was written. */
export function streamRow(statements: Statements, id: number, name: string): StreamRow {
  const row = reading(`what was told last of ${name}`, () => statements.stream.get(id));
  if (row === undefined) throw new Error(`the stream ${name} can not be read back`);
  return rowAsWritten(`what was told last of ${name}`, row, streamSum);
}

/** Throws an error of damage if the row differs from what was written. */
export function readAssignment(row: AssignmentRow): TimelineEntry {
  const { anchor, body } = rowAsWritten('an assignment', row, assignmentSum);
  const { corrected, ...own } = JSON.parse(anchor) as Anchor & Pick<TimelineEntry, 'corrected'>;
  return { body: body === null ? null : (JSON.parse(body) as Assignment), anchor: own, corrected };
}

/** The assignment in force of a stream by what is stored of it: the newest, and where turns end its runs, as far as its newest run has come. */
export function storedInForce(statements: Statements, id: number): Assignment | null {
  const last = statements.lastAssignment.get(id);
  const body = last === undefined ? null : readAssignment(last).body;
  if (body?.turnIsRun !== true) return body;
  const timeline = statements.assignments.all(id).map(readAssignment);
  const reached = statements.runsOf.all(id, 1).map((run) => (JSON.parse(rowAsWritten(`run ${run.id}`, run, runSum).span) as SavedSpan).epoch);
  return assignmentAt(timeline, epochInForce(timeline, reached));
}

/** Reads what was received of each boot; returns the number of the newest message whose items are included, null if all are. */
function loadBoots(intake: Intake, stream: number, statements: Statements, sound: <Result>(what: string, read: () => Result, otherwise: Result) => Result): number | null {
  let through: number | null = null;
  const marksOf = sound('the marks', () => storedMarks(stream, statements), null);
  for (const own of sound('the boots', () => statements.boots.all(stream), [])) {
    const read = sound(`what was received of boot ${JSON.stringify(own.boot)}`, () => {
      rowAsWritten('a boot', own, bootSum);
      return { marks: marksOf?.(own.id, own.marks), taken: own.taken === null ? null : (JSON.parse(own.taken) as ItemTally) };
    }, null);
    if (own.through !== null) through = Math.max(through ?? 0, own.through);
    // If the marks are lost, every item counts as new: an item that is kept twice does less harm than one that is not kept.
    const received = read?.marks === undefined ? { marks: noMarks(), taken: emptyTally(), lost: true as const } : { marks: read.marks, taken: read.taken };
    addBoot(intake, { boot: own.boot, rank: own.rank, ...received, ahead: 'no' });
  }
  return through;
}
