import { storedMark } from '../../shared/weld/seq-marks.js';
import { carriageAlarms } from './carriage-alarms.js';
import { flushStream } from './flush-stream.js';
import type { FoldDeps } from './fold-deps.js';
import { followRuns } from './follow-runs.js';
import { followSequence } from './follow-sequence.js';
import { followSilence } from './follow-silence.js';
import { foldInTurn } from './fold-turns.js';
import { guardStream } from './guard-stream.js';
import { saveMarks } from './keep-marks.js';
import { writeKept } from './keep-messages.js';
import { endShelving } from './keep-alarms.js';
import { isQuiet } from './quiet-streams.js';
import { openRunEndsAt } from './run-end.js';
import type { StreamMemory } from './stream-memory.js';
import type { StreamState } from './stream-state.js';
import { runBeingWelded, tellCarriage } from './tell-carriage.js';
import { nextDue, storedEvery } from './next-due.js';
import { noteNews } from './stream-news.js';

/** Boots named in the `stored` topic. */
const storedBoots = 4;

export type PublishRetained = (topic: string, payload: string) => void;

/**
 * Everything that is due for any carriage that something has come for, or whose time it is; what those have taken that flood is folded for
 * `foldFor` ms, and `again` are those that were folded again. Carriages that are quiet by then are looked at no more.
 */
export function advanceStreams(streams: StreamMemory, publish: PublishRetained, foldFor = Infinity, again: Iterable<StreamState> = []): void {
  const { fold } = streams;
  const now = fold.steady();
  const touched = foldInTurn(streams, foldFor);
  for (const stream of again) touched.add(stream);
  for (const stream of streams.active) {
    if (stream.dueAt > now && !touched.has(stream)) continue;
    writeKept(stream, fold.changes);
    stream.knownTimes.clear();
    guardStream(stream, streams, () => {
      advanceStream(stream, fold, now, touched.has(stream));
    });
    saveMarks(stream, fold);
    publishAlarms(stream, fold, publish);
    publishStored(stream, now, publish);
    stream.dueAt = nextDue(stream, fold);
    if (isQuiet(stream)) streams.active.delete(stream);
  }
}

function advanceStream(stream: StreamState, fold: FoldDeps, now: number, touched: boolean): void {
  // Nothing is told, raised or recorded of half of what was taken: a kill could then leave one without the other.
  if (stream.dirtyFrom !== null || stream.fresh.length > 0) return;
  const hasOpenEnded = openRunEndsAt(stream, fold) <= fold.now();
  if (hasOpenEnded) noteNews(stream);
  const due = stream.flushAt <= now;
  if (touched || due) followRuns(stream, due, fold);
  followSilence(stream, fold);
  endShelving(stream, fold);
  if (stream.flushAt === Infinity) return;
  if (due) followSequence(stream, fold);
  if (stream.flushAt <= now || mustRecord(stream, hasOpenEnded)) flushStream(stream, fold);
  else if (stream.tellAt <= now) tellCarriage(stream, fold);
}

/** Runs that begin or end are told at once. Those that a checkpoint holds would never begin again: they are recorded with it. */
function mustRecord(stream: StreamState, hasOpenEnded: boolean): boolean {
  if (stream.unrecorded !== null) return true;
  const run = stream.live.head.merge.run;
  if (stream.finishedRuns.size > 0 || (run?.ordinal ?? null) !== (stream.open?.ordinal ?? null)) return true;
  return run !== null && run.epoch < stream.timeline.length - 1 && hasOpenEnded;
}

/** For a lamp or a controller; it finds the newest at the broker whenever it comes. */
function publishAlarms(stream: StreamState, fold: FoldDeps, publish: PublishRetained): void {
  if (!stream.alarmsChanged || stream.stream !== '') return;
  stream.alarmsChanged = false;
  if (!stream.retired) publish(`weld/${stream.site}/${stream.carriage}/alarms`, JSON.stringify(carriageAlarms(stream, runBeingWelded(stream), fold)));
}

/** The mark goes out after the commit, and only once the figures hold what it says. */
function publishStored(stream: StreamState, now: number, publish: PublishRetained): void {
  if (!stream.storedChanged || stream.stream !== '' || now - stream.storedAt < storedEvery) return;
  if (stream.fault === null && (stream.dirtyFrom !== null || stream.fresh.length > 0 || stream.flushAt < Infinity)) return;
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
