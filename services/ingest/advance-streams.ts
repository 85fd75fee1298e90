import { storedMark } from '../../shared/weld/seq-marks.js';
import { carriageAlarms } from './carriage-alarms.js';
import { flushStream, hasEnded } from './flush-stream.js';
import { followRuns } from './follow-runs.js';
import { followSequence } from './follow-sequence.js';
import { followSilence, silenceDue } from './follow-silence.js';
import { foldInTurn } from './fold-turns.js';
import { guardStream } from './guard-stream.js';
import { saveMarks } from './keep-marks.js';
import { writeKept } from './keep-messages.js';
import { endShelving, shelvingEnds } from './keep-alarms.js';
import { isQuiet } from './quiet-streams.js';
import { mayRefold } from './refold-pace.js';
import type { StreamMemory } from './stream-memory.js';
import type { StreamState } from './stream-state.js';
import { runBeingWelded, tellCarriage } from './tell-carriage.js';

/** How often live figures are told, records written and the `stored` mark published while a carriage sends, ms. */
const tellEveryMs = 200;
const flushEveryMs = 1_000;
const storedEveryMs = 1_000;
/** Boots named in the `stored` topic. */
const storedBoots = 4;

export type PublishRetained = (topic: string, payload: string) => void;

/**
 * Everything that is due for any carriage; what those have taken that flood is folded for
 * `foldFor` ms, and `again` are those that were folded again. Carriages that are quiet by then are looked at no more.
 */
export function advanceStreams(streams: StreamMemory, publish: PublishRetained, foldFor = Infinity, again: Iterable<StreamState> = []): void {
  const now = streams.fold.steady() / 1e3;
  const touched = foldInTurn(streams, foldFor);
  for (const stream of again) touched.add(stream);
  for (const stream of streams.active) {
    writeKept(stream, streams.fold.changes);
    stream.knownTimes.clear();
    guardStream(stream, streams, () => {
      advanceStream(stream, streams, now, touched.has(stream));
    });
    saveMarks(stream, streams.fold);
    publishAlarms(stream, streams, publish);
    publishStored(stream, now, publish);
    if (isQuiet(stream)) streams.active.delete(stream);
  }
}

function advanceStream(stream: StreamState, { fold }: StreamMemory, now: number, touched: boolean): void {
  // Nothing is told, raised or recorded of half of what was taken: a kill could then leave one without the other.
  if (stream.dirtyFrom !== null || stream.fresh.length > 0) return;
  if (!stream.unflushed && endedMeanwhile(stream, fold)) stream.unflushed = true;
  const due = stream.unflushed && now - stream.flushedAt >= flushEveryMs;
  if (touched || due) followRuns(stream, due, fold);
  followSilence(stream, fold);
  endShelving(stream, fold);
  if (!stream.unflushed) return;
  if (due) followSequence(stream, fold);
  if (now - stream.flushedAt >= flushEveryMs || mustRecord(stream, fold)) flushStream(stream, fold);
  else if (now - stream.toldAt >= tellEveryMs) tellCarriage(stream, fold);
}

/** Whether anything is due for a stream, so that a transaction is worth its while. */
export function isDue(stream: StreamState, streams: StreamMemory): boolean {
  const { fold } = streams;
  const now = fold.steady() / 1e3;
  if (stream.fault === null && stream.dirtyFrom !== null) return mayRefold(stream, streams, now);
  if (stream.fault === null && stream.unflushed) return now - stream.toldAt >= tellEveryMs;
  if (stream.fault === null && (silenceDue(stream, fold) || stream.alarms.some((alarm) => shelvingEnds(alarm, fold.now())))) return true;
  return (stream.storedChanged && stream.stream === '' && now - stream.storedAt >= storedEveryMs) || endedMeanwhile(stream, fold);
}

/** Runs that begin or end are told at once. Those that a checkpoint holds would never begin again: they are recorded with it. */
function mustRecord(stream: StreamState, fold: StreamMemory['fold']): boolean {
  if (stream.unrecorded !== null) return true;
  const run = stream.live.head.merge.run;
  if (stream.finishedRuns.size > 0 || (run?.ordinal ?? null) !== (stream.open?.ordinal ?? null)) return true;
  return run !== null && run.epoch < stream.timeline.length - 1 && endedMeanwhile(stream, fold);
}

function endedMeanwhile(stream: StreamState, fold: StreamMemory['fold']): boolean {
  const { open } = stream;
  if (open === null) return false;
  const entry = stream.runs.get(open.ordinal);
  return entry !== undefined && entry.finished === null && hasEnded(stream, open, open.newest, fold);
}

/** For a lamp or a controller; it finds the newest at the broker whenever it comes. */
function publishAlarms(stream: StreamState, { fold }: StreamMemory, publish: PublishRetained): void {
  if (!stream.alarmsChanged || stream.stream !== '') return;
  stream.alarmsChanged = false;
  if (!stream.retired) publish(`weld/${stream.site}/${stream.carriage}/alarms`, JSON.stringify(carriageAlarms(stream, runBeingWelded(stream), fold)));
}

/** The mark goes out after the commit, and only once the figures hold what it says. */
function publishStored(stream: StreamState, now: number, publish: PublishRetained): void {
  if (!stream.storedChanged || stream.stream !== '' || now - stream.storedAt < storedEveryMs) return;
  if (stream.fault === null && (stream.dirtyFrom !== null || stream.fresh.length > 0 || stream.unflushed)) return;
  stream.storedChanged = false;
  stream.storedAt = now;
  if (!stream.retired) publish(`weld/${stream.site}/${stream.carriage}/stored`, storedText(stream));
}

function storedText(stream: StreamState): string {
  const boots = stream.storedBoots.slice(-storedBoots).flatMap((name) => {
    const boot = stream.boots.get(name);
    const mark = boot === undefined ? null : storedMark(boot.marks.any);
    return mark === null ? [] : [{ boot: name, ...mark }];
  });
  return JSON.stringify({ boots });
}

/** What is retained of a carriage that nothing is under way for: at the start the broker may know nothing of it. */
export function publishSettled(stream: StreamState, { fold }: StreamMemory, publish: PublishRetained): void {
  publish(`weld/${stream.site}/${stream.carriage}/alarms`, JSON.stringify(carriageAlarms(stream, null, fold)));
  if (stream.storedBoots.length > 0) publish(`weld/${stream.site}/${stream.carriage}/stored`, storedText(stream));
}
