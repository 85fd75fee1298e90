import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { Anchor } from '../../shared/weld/assignment-timeline.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import { startFold } from '../../shared/weld/carriage-fold.js';
import { startLiveFold } from '../../shared/weld/live-fold.js';
import { emptyTally } from '../../shared/weld/item-tally.js';
import type { ItemTally } from '../../shared/weld/item-tally.js';
import { addSeq, emptySeqSet } from '../../shared/weld/seq-marks.js';
import { writeMarks } from '../../shared/weld/seq-marks-text.js';
import { storedMarks } from './keep-marks.js';
import type { Statements } from './statements.js';
import type { BootState, RunEntry, StreamState } from './stream-state.js';

/** Reads a stream's marks, assignments and runs; its fold stands at the start and has to be brought forward. */
export function loadStream(statements: Statements, site: string, carriage: string, stream: string, now: number): StreamState {
  let row = statements.streamByName.get(site, carriage, stream);
  if (row === undefined) {
    statements.addStream.run(site, carriage, stream, now);
    row = statements.streamByName.get(site, carriage, stream);
  }
  if (row === undefined) throw new Error(`the stream ${site}/${carriage} can not be read back`);
  if (row.settled === 1) statements.settle.run(0, row.id);
  const boots = new Map<string, BootState>();
  const marksOf = storedMarks(row.id, statements);
  for (const own of statements.boots.all(row.id)) {
    boots.set(own.boot, { id: own.id, boot: own.boot, rank: own.rank, marks: marksOf(own.id, own.marks), taken: own.taken === null ? null : (JSON.parse(own.taken) as ItemTally), changed: false });
  }
  const state: StreamState = {
    id: row.id, site, carriage, stream,
    online: row.online === null ? null : row.online === 1,
    // A clock that was set back since would have it lie ahead.
    lastSeen: row.last_seen === null ? null : Math.min(row.last_seen, now), clockOffset: row.clock_offset,
    heard: new Map(), silences: new Map(), messageAt: row.heard, touchedAt: 0, droppedAt: 0, retired: row.retired === 1,
    boots, newestTimes: new Map(), timeLines: 0, timeline: [], assignmentIds: [],
    newest: null, newestOfArc: new Map(), live: startLiveFold(startFold()), fresh: [], gathered: [], gatheredBytes: 0,
    dirtyFrom: null, checkpoint: null, floor: null, refoldCost: 0, refoldedAt: null, runs: new Map(), orphans: [], cut: new Set(), checkpointAt: null, pinned: new Map(), finishedRuns: new Map(), tails: new Set(), open: null, recent: [],
    alarms: statements.lastingAlarms.all(row.id, row.id).map(({ facts }) => JSON.parse(facts) as AlarmFacts), clearedAlarms: statements.clearedAlarms.get(row.id)?.count ?? 0, shownAlarms: null, followed: new Map(), alarmsChanged: true,
    snapshot: row.snapshot, flushedAt: 0, toldAt: 0, unflushed: false, storedAt: 0, storedChanged: boots.size > 0, storedBoots: [...boots.values()].sort((a, b) => a.rank - b.rank).map((own) => own.boot), fault: null,
  };
  for (const own of statements.assignments.all(row.id)) {
    state.timeline.push({ body: own.body === null ? null : (JSON.parse(own.body) as Assignment), anchor: JSON.parse(own.anchor) as Anchor });
    state.assignmentIds.push(own.id);
  }
  for (const run of statements.runsOf.all(row.id)) {
    const span = JSON.parse(run.span) as SavedSpan;
    if (run.finished !== null) state.cut.add(run.id);
    state.tails.add(run.id);
    state.runs.set(span.ordinal, {
      ...span, id: run.id, attempt: run.attempt, version: run.version, finished: run.finished === null ? null : Math.min(run.finished, now), override: run.override,
      revise: false, saved: savedText(run), listed: null, excursions: null,
    });
    // A revision that came with a later assignment says nothing of the one that was welded by.
    if (run.override === null) state.pinned.set(span.epoch, span.revision);
  }
  return state;
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
    const marks = { arcs: {}, any: emptySeqSet() };
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
