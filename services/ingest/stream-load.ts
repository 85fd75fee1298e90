import { assignmentSum, bootSum, rowAsWritten, runSum, streamSum } from '../../shared/records/row-sum.js';
import { isDamageError } from '../../shared/sqlite/damage.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { Anchor, TimelineEntry } from '../../shared/weld/assignment-timeline.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import { startFold } from '../../shared/weld/carriage-fold.js';
import { startLiveFold } from '../../shared/weld/live-fold.js';
import { emptyTally } from '../../shared/weld/item-tally.js';
import type { ItemTally } from '../../shared/weld/item-tally.js';
import { addSeq, emptySeqSet } from '../../shared/weld/seq-marks.js';
import type { BootMarks } from '../../shared/weld/seq-marks-text.js';
import { writeMarks } from '../../shared/weld/seq-marks-text.js';
import { storedMarks } from './keep-marks.js';
import type { AssignmentRow, Statements, StreamRow } from './statements.js';
import type { BootState, RunEntry, StreamState } from './stream-state.js';
import { reading } from './summed-rows.js';

/** What of a stream is other than it was written, in words. */
export type TellDamage = (what: string) => void;

/**
 * Reads a stream's marks, assignments and runs; its fold stands at the start and has to be brought forward. Where any of it is other than it was
 * written, that is told and the stream has a fault from the beginning: what comes is kept, and what is stored stays as it is.
 */
export function loadStream(statements: Statements, site: string, carriage: string, stream: string, now: number, tell: TellDamage = () => undefined): StreamState {
  const found = statements.findStream.get(site, carriage, stream);
  const id = found?.id ?? Number(statements.addStream.run(site, carriage, stream, now).lastInsertRowid);
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
  const row = sound('what was told last', () => streamRow(statements, id, name), null);
  if (row?.settled === 1) statements.settle(0, id);
  const boots = readBoots(statements, id, sound);
  const alarms = sound('the alarms', () => statements.lastingAlarms.all(id, id).map(({ facts }) => JSON.parse(facts) as AlarmFacts), []);
  const lastSeen = row?.last_seen ?? null;
  const state: StreamState = {
    id, site, carriage, stream,
    online: row === null || row.online === null ? null : row.online === 1,
    // A clock that was set back since would have it lie ahead.
    lastSeen: lastSeen === null ? null : Math.min(lastSeen, now), clockOffset: row?.clock_offset ?? null,
    heard: new Map(), silences: new Map(), messageAt: row?.heard ?? null, touchedAt: 0, droppedAt: 0, retired: row?.retired === 1,
    boots, newestTimes: new Map(), timeLines: 0, timeline: [], assignmentIds: [],
    newest: null, newestOfArc: new Map(), live: startLiveFold(startFold()), fresh: [], gathered: [], gatheredBytes: 0,
    dirtyFrom: null, checkpoint: null, floor: null, refoldCost: 0, refoldedAt: null, runs: new Map(), orphans: [], cut: new Set(), checkpointAt: null, pinned: new Map(), finishedRuns: new Map(), tails: new Set(), open: null, recent: [],
    alarms, clearedAlarms: statements.clearedAlarms.get(id)?.count ?? 0, shownAlarms: null, followed: new Map(), alarmsChanged: true,
    snapshot: row?.snapshot ?? null, flushedAt: 0, toldAt: 0, unflushed: false, unrecorded: null, storedAt: 0, storedChanged: boots.size > 0, storedBoots: [...boots.values()].sort((a, b) => a.rank - b.rank).map((own) => own.boot), fault: null,
  };
  for (const own of sound('the assignments', () => statements.assignments.all(id), [])) {
    const entry = sound('an assignment', () => readAssignment(own), null);
    if (entry === null) continue;
    state.timeline.push(entry);
    state.assignmentIds.push(own.id);
  }
  for (const run of sound('the runs', () => statements.runsOf.all(id), [])) {
    const span = sound(`run ${run.id}`, () => JSON.parse(rowAsWritten(`run ${run.id} of ${name}`, run, runSum).span) as SavedSpan, null);
    if (span === null) continue;
    if (run.finished !== null) state.cut.add(run.id);
    state.tails.add(run.id);
    state.runs.set(span.ordinal, {
      ...span, id: run.id, attempt: run.attempt, version: run.version, finished: run.finished === null ? null : Math.min(run.finished, now), override: run.override,
      revise: false, saved: savedText(run), listed: null, excursions: null,
    });
    // A revision that came with a later assignment says nothing of the one that was welded by.
    if (run.override === null) state.pinned.set(span.epoch, span.revision);
  }
  state.fault = fault;
  return state;
}

/** The row of a stream. Throws an error of damage where it is other than it was written. */
export function streamRow(statements: Statements, id: number, name: string): StreamRow {
  const row = reading(`what was told last of ${name}`, () => statements.stream.get(id));
  if (row === undefined) throw new Error(`the stream ${name} can not be read back`);
  return rowAsWritten(`what was told last of ${name}`, row, streamSum);
}

/** Throws an error of damage where it is other than it was written. */
export function readAssignment(row: AssignmentRow): TimelineEntry {
  const { anchor, body } = rowAsWritten('an assignment', row, assignmentSum);
  return { body: body === null ? null : (JSON.parse(body) as Assignment), anchor: JSON.parse(anchor) as Anchor };
}

function readBoots(statements: Statements, stream: number, sound: <Result>(what: string, read: () => Result, otherwise: Result) => Result): Map<string, BootState> {
  const boots = new Map<string, BootState>();
  const marksOf = sound('the marks', () => storedMarks(stream, statements), null);
  for (const own of sound('the boots', () => statements.boots.all(stream), [])) {
    const read = sound(`what was received of boot ${JSON.stringify(own.boot)}`, () => {
      rowAsWritten('a boot', own, bootSum);
      return { marks: marksOf?.(own.id, own.marks), taken: own.taken === null ? null : (JSON.parse(own.taken) as ItemTally) };
    }, null);
    // Of what is lost everything counts as new: an item that is kept twice does less harm than one that is not kept.
    const received = read?.marks === undefined ? { marks: noMarks(), taken: emptyTally(), lost: true as const } : { marks: read.marks, taken: read.taken };
    boots.set(own.boot, { id: own.id, boot: own.boot, rank: own.rank, ...received, changed: false });
  }
  return boots;
}

function noMarks(): BootMarks {
  return { arcs: {}, any: emptySeqSet() };
}

/** What of a run's entry is stored as its span. */
export type SavedSpan = Pick<RunEntry, 'ordinal' | 'epoch' | 'start' | 'revisedAt' | 'revision' | 'first' | 'to' | 'lastOn'>;

export function savedSpan(entry: RunEntry): string {
  const { ordinal, epoch, start, revisedAt, revision, first, to, lastOn } = entry;
  return JSON.stringify({ ordinal, epoch, start, revisedAt, revision, first, to, lastOn } satisfies SavedSpan);
}

/** All that is stored of a run's present state, for seeing whether it has changed. */
export function savedText({ record, marks, span }: { readonly record: string; readonly marks: string; readonly span: string }): string {
  return [record, marks, span].join('\n');
}

/** The boot's state, new with the next rank where it was never seen. */
export function bootOf(state: StreamState, boot: string, statements: Statements): BootState {
  let own = state.boots.get(boot);
  if (own === undefined) {
    const rank = state.boots.size;
    const marks = noMarks();
    const taken = emptyTally();
    const { lastInsertRowid } = statements.addBoot.run(state.id, boot, rank, writeMarks(marks).text, JSON.stringify(taken));
    own = { id: Number(lastInsertRowid), boot, rank, marks, taken, changed: false };
    state.boots.set(boot, own);
    if (boot !== '') state.storedBoots.push(boot);
  }
  return own;
}

/** Notes that a seq was stored or refused, for the `stored` topic. */
export function noteSeq(state: StreamState, own: BootState, seq: number): void {
  addSeq(own.marks.any, seq);
  own.changed = true;
  state.storedChanged = true;
}
