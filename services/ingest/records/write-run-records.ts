import type { Run } from '../../../shared/api-types/run.js';
import { notJudged } from '../../../shared/answers/not-judged.js';
import { runRecord } from '../../../shared/answers/run-record.js';
import { runSensors } from '../../../shared/answers/run-sensors.js';
import { textWithSharedSeam } from '../../../shared/answers/shared-seam.js';
import type { SavedRun } from '../../../shared/records/change-set.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { sameSeamAndRun } from '../../../shared/weld/run/assignment-timeline.js';
import { isAfter } from '../../../shared/weld/items/place.js';
import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import { lookAtPresent, type FoldOutput } from '../../../shared/weld/run/live-fold.js';
import { outAtEnd } from '../../../shared/weld/rows/ended-rows.js';
import { columnOf, rowLength, runColumn } from '../../../shared/weld/rows/row.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import { judgedExcursions } from '../../../shared/weld/run/run-excursions.js';
import { isoTime, judgedFigures, judgedSums, runMarks, type RunMarks } from '../../../shared/weld/run/run-figures.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import type { RunSums } from '../../../shared/weld/run/run-sums.js';
import { judgedZones } from '../../../shared/weld/run/judged-zones.js';
import { foldFromRow } from '../fold/checkpoints.js';
import { correctRelitRun, withdrawRelit } from '../fold/correct-relit-run.js';
import { isLocked, type FoldDeps } from '../fold/fold-deps.js';
import { keepDensity } from './keep-density.js';
import { keepExcursions } from './keep-excursions.js';
import { attemptOf, dropEntry, ensureEntry, rowsEnd } from '../fold/run-entries.js';
import { batchOf, noRows } from '../fold/row-batch.js';
import { hasEnded } from '../fold/run-end.js';
import { streamChange, type Carriage } from '../fold/carriage.js';
import { presentUnder } from '../fold/sums-under.js';
import { publishLiveState } from '../answers/publish-live-state.js';
import { noteFlushed } from '../fold/outbox.js';
import { entryOf, savedSpan, type RunBook, type RunEntry } from '../fold/run-book.js';
import { assignmentOf, assignmentOfRun, type Intake } from '../fold/intake.js';
import { temperaturesOf } from '../fold/run-temperature.js';

/** Writes the records and the live figures of the carriage's runs as they are now. */
export function writeRunRecords(carriage: Carriage, deps: FoldDeps): void {
  const { kind, fold, runs: book, outbox } = carriage;
  const look = lookAtPresent(fold.live, fold.context);
  const runs = new Map<number, RunState>(book.finished);
  const seen = new Set<number>(book.finished.keys());
  for (const own of look.output) {
    if (own.type === 'began') ensureEntry(carriage, own, deps);
    if (own.type === 'finished') runs.set(own.run.ordinal, own.run);
    seen.add(own.type === 'finished' ? own.run.ordinal : own.ordinal);
  }
  const open = look.state.merge.run;
  if (open !== null) runs.set(open.ordinal, open);
  dropVanished(carriage, seen, runs, deps);
  book.open = open === null ? null : { ordinal: open.ordinal, epoch: open.epoch, lastOn: open.lastOn, newest: look.state.newest ?? open.lastOn };
  const inOrder = [...runs.values()].sort((a, b) => a.ordinal - b.ordinal);
  const noted = inOrder.flatMap((run, at) => noteRun(carriage, run, inOrder[at + 1] ?? null, deps));
  const tails = saveTails(book, look.output, runs, deps);
  for (const { entry, finished } of noted) if (finished) deps.traces.seal(entry.id);
  const now = deps.steady();
  const rests = outbox.restsAt <= now;
  const left = noted.filter((own) => {
    saveRun(carriage, own, tails.get(own.entry.id) ?? [], deps);
    return keepDensity(own.entry, own.run, { now, must: own.finished || rests }, deps.changes);
  });
  publishLiveState(carriage, deps, true);
  // A carriage in memory is not settled.
  if (kind === 'live') deps.changes.streams.push(streamChange(carriage, false));
  for (const orphan of book.orphans.splice(0)) if (!isLocked(orphan, deps)) dropEntry(carriage, orphan, deps);
  book.finished.clear();
  noteFlushed(outbox, now, left.length > 0);
}

/** Drops the runs that were seen in the provisional stretch and are no longer there. */
function dropVanished(carriage: Carriage, seen: ReadonlySet<number>, runs: ReadonlyMap<number, RunState>, deps: FoldDeps): void {
  const settled = carriage.fold.live.stretches[0]?.before.merge.ordinal ?? 0;
  for (const entry of [...carriage.runs.entries.values()]) {
    if (entry.ordinal >= settled && !seen.has(entry.ordinal) && !runs.has(entry.ordinal)) dropEntry(carriage, entry, deps);
  }
}

interface NotedRun {
  readonly entry: RunEntry;
  readonly run: RunState;
  readonly finished: boolean;
}

/** Brings a run's entry and the end of its trace up to date; `next` is the run that follows. Nothing changes for a locked run. */
function noteRun(carriage: Carriage, run: RunState, next: RunState | null, deps: FoldDeps): NotedRun[] {
  const { intake, fold, runs } = carriage;
  const entry = entryOf(runs, run);
  if (entry === undefined) return [];
  const finished = run.finished || hasEnded(carriage, { epoch: run.epoch, lastOn: run.lastOn, newest: fold.live.head.newest ?? run.lastOn }, deps);
  if (finished && isLocked(entry, deps)) return [];
  const wasFinished = entry.finished !== null;
  if (finished && !wasFinished) entry.finished = deps.now();
  if (!finished) entry.finished = null;
  // The run had seemed to end, the rows after that end were written and cut, and now they are needed after all.
  const settled = fold.live.stretches[0]?.before.merge.next ?? 0;
  const goesOn = wasFinished && (!finished || run.lastOn > entry.lastOn) && settled > rowsEnd(entry.lastOn);
  if (goesOn && runs.cut.delete(entry.id)) foldFromRow(carriage, entry, rowsEnd(entry.lastOn), deps);
  withdrawRelit(carriage, entry, run.epoch, deps);
  correctRelitRun(carriage, entry, run.epoch, deps);
  entry.epoch = run.epoch;
  entry.start = run.start;
  entry.lastOn = run.lastOn;
  const first = run.boots[0];
  entry.first = first === undefined ? null : { rank: first.rank, key: first.firstKey };
  entry.to = finished ? endPlace(intake, run, next) : null;
  // A late sample from before the run changes the temperature that counts for it.
  const plate = JSON.stringify(run.plate);
  if (entry.plate !== undefined && entry.plate !== plate) entry.revise = true;
  entry.plate = plate;
  if (entry.revise && wasFinished && finished) {
    entry.version += 1;
    entry.revisedAt = deps.now();
  }
  entry.revise = false;
  if (finished) {
    // Every time: while the fold keeps the run open, it keeps making rows in the dark after its end.
    deps.traces.cut(entry.id, rowsEnd(run.lastOn));
    runs.cut.add(entry.id);
  }
  return [{ entry, run, finished }];
}

/** `tail`: the rows of the run that may still change. */
function saveRun(carriage: Carriage, { entry, run, finished }: NotedRun, tail: readonly RowGroup[], deps: FoldDeps): void {
  const assignment = assignmentOfRun(carriage.intake, { override: entry.override, epoch: run.epoch });
  entry.attempt = attemptOf(carriage, entry, assignment, deps);
  const marks = { ...runMarks(run), finished };
  const sums = entry.under === null ? run.sums : presentUnder(entry.under, tail, finished ? rowsEnd(run.lastOn) : Infinity, finished ? outAtEnd(run, run.lastOn) : null);
  saveRecord(carriage, entry, { assignment, finished, sums, marks, travelJump: run.travelJump }, deps);
}

/** Where the run's items end: at the next assignment, or at its last item if there is none or another run begins before it. */
function endPlace({ timeline }: Intake, run: RunState, following: RunState | null): RunEntry['to'] {
  const begun = following?.boots[0];
  for (let next = entryIndex(run.epoch) + 1; next < timeline.length; next += 1) {
    const anchor = timeline[next]?.anchor;
    if (anchor === undefined || !('after' in anchor) || anchor.after === null) continue;
    const { rank, key } = anchor.after;
    if (begun !== undefined && !isAfter({ rank: begun.rank, key: begun.firstKey }, { rank, key })) break;
    return { rank, key };
  }
  const last = run.boots.at(-1);
  return last === undefined ? null : { rank: last.rank, key: last.lastKey };
}

export interface RecordParts {
  readonly assignment: Assignment | null;
  readonly finished: boolean;
  readonly sums: RunSums;
  readonly marks: RunMarks;
  readonly travelJump: boolean;
  /** The measurements that may have been entered for it, if they had to be read; else those in memory. */
  readonly entered?: readonly Measurement[];
}

export function saveRecord(carriage: Carriage, entry: RunEntry, parts: RecordParts, deps: FoldDeps): void {
  const { assignment, finished, marks: known } = parts;
  const welded = assignmentOf(carriage.intake, entry.epoch);
  // An assignment to another run answers the question whether this is the next run.
  const litElsewhere = known.litElsewhere && (welded === null || (assignment !== null && sameSeamAndRun(welded, assignment)));
  // The last rows may still turn out to be a crater; the record stores their figures, zones and excursions as they are now.
  const sums = judgedSums(known, parts.sums);
  const figures = judgedFigures({ ...known, litElsewhere }, sums);
  const excursions = judgedExcursions(known, sums);
  const preparation = assignment === null ? null : deps.procedures.preparation(assignment, entry.revision, figures.arcs.map(({ arc }) => arc));
  const temperatures = temperaturesOf(carriage, { id: entry.id, begin: known, assignment }, deps, parts.entered);
  const { temperatureWindows } = deps.procedures.parameters(assignment, entry.revision);
  const why = notJudged(assignment, entry.revision, sums.parameters.windows);
  const record = JSON.stringify(
    runRecord({
      stream: carriage, entry, assignment, runGroup: sums.parameters.runGroup, figures, finished, travelJump: parts.travelJump, excursions: excursions.length, notJudged: why, origin: originOf(carriage), preparation,
      sensors: runSensors(carriage.intake.sensors, known.sensors ?? -1, entry.start, deps.timeZone ?? 'UTC'), temperatures, temperatureWindows,
    }),
  );
  // Earlier versions stored the excursions among the marks.
  const marks = JSON.stringify({ ...known, zones: judgedZones(sums), travelJump: parts.travelJump, excursions: undefined });
  const listed = {
    seam: assignment?.seam ?? null, run: assignment?.run ?? null, attempt: entry.attempt,
    assigned: assignment === null ? 0 : 1, state: finished ? 'finished' : 'welding', simulated: assignment?.simulated === true ? 1 : 0,
    started: entry.start, ended: finished ? entry.lastOn : null, version: entry.version, finished: entry.finished, override: entry.override,
    procedure: assignment?.procedure ?? null, operator: assignment?.operator ?? null, lots: lotsText(assignment),
    excursions: excursions.length, complete: figures.complete ? 1 : 0, judged: why === null ? 1 : 0, length: finished ? figures.length : null,
  };
  writeRun(carriage, entry, listed, { record, marks, span: savedSpan(entry) }, deps);
  keepExcursions(entry, { excursions, parameters: sums.parameters, assignment }, deps.changes);
  deps.emit('run', textWithSharedSeam(record, assignment !== null && deps.passes.isShared(assignment, carriage.id)));
}

/** Where the items of a stream came from. Logs imported before this was recorded have no further details. */
function originOf({ kind, intake: { origin } }: Carriage): Run['origin'] {
  if (kind === 'live') return { kind, file: null, at: null, by: null };
  return { kind, file: origin?.file ?? null, at: origin === null ? null : isoTime(origin.at), by: origin?.by ?? null };
}

type Listed = Omit<SavedRun, 'id' | 'stream_id' | 'site' | 'carriage' | 'span' | 'marks' | 'record'>;

function writeRun({ id, site, carriage }: Carriage, entry: RunEntry, columns: Listed, texts: Pick<SavedRun, 'record' | 'marks' | 'span'>, { changes, passes }: FoldDeps): void {
  const listed = JSON.stringify(columns);
  const row = { id: entry.id, stream_id: id, site, carriage, ...columns, ...texts };
  // From one second to the next, no indexed column changes: writing the indexes again would cost more than everything else.
  changes.runs.push(listed === entry.listed ? { rewrite: row } : { whole: row });
  entry.listed = listed;
  entry.recorded = true;
  const pass = columns.seam === null || columns.run === null ? null : { seam: columns.seam, run: columns.run };
  passes.note(entry.id, { stream: id, started: entry.start }, entry.pass, pass);
  entry.pass = pass;
}

/** Every declared lot, in the form in which lots are searched for: each on a line of its own. */
function lotsText(assignment: Assignment | null): string | null {
  const lots = [assignment?.fluxLot, ...(assignment?.arcs ?? []).map(({ wireLot }) => wireLot)].filter((lot) => lot !== undefined);
  return lots.length === 0 ? null : `\n${[...new Set(lots)].join('\n')}\n`;
}

/** Stores the rows that may still change behind the others, replacing them each time. Returns them by the ids of their runs. */
function saveTails(book: RunBook, output: readonly FoldOutput[], runs: ReadonlyMap<number, RunState>, deps: FoldDeps): ReadonlyMap<string, readonly RowGroup[]> {
  const tails = new Map<string, RowGroup[]>();
  for (const own of output) {
    if (own.type !== 'row') continue;
    const entry = entryOf(book, own);
    if (entry === undefined || isLocked(entry, deps)) continue;
    const run = runs.get(own.ordinal);
    if (entry.finished !== null && run !== undefined && columnOf(own.rows, own.at, runColumn.index) * rowLength >= run.lastOn) continue;
    const tail = tails.get(entry.id);
    if (tail === undefined) tails.set(entry.id, [own]);
    else tail.push(own);
  }
  const left = [...book.tails].filter((id) => !tails.has(id));
  if (left.length > 0) {
    const entries = new Map([...book.entries.values()].map((entry) => [entry.id, entry]));
    for (const id of left) {
      // A run decided before anything came after it keeps its last rows; a run without an entry was decided long ago.
      const entry = entries.get(id);
      if (entry === undefined || isLocked(entry, deps)) continue;
      deps.traces.setTail(id, [], noRows);
      if (entry.finished !== null) deps.traces.seal(id);
    }
  }
  book.tails = new Set(tails.keys());
  for (const [id, tail] of tails) {
    const { arcs, runRows } = batchOf(tail);
    deps.traces.setTail(id, arcs, runRows);
  }
  return tails;
}
