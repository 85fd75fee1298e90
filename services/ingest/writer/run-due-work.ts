import { storedMark } from '../../../shared/weld/items/seq-marks.js';
import { carriageAlarms } from '../alarms/carriage-alarms.js';
import { writeRunRecords } from '../records/write-run-records.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { raiseRunAlarms } from '../alarms/raise-run-alarms.js';
import { followSequence } from './follow-sequence.js';
import { raiseSilenceAlarm, silenceDueAt } from '../alarms/raise-silence-alarm.js';
import { foldInTurn } from './fold-turns.js';
import { guardStream } from './guard-stream.js';
import { saveMarks } from '../fold/keep-marks.js';
import { writeMessageLog } from '../fold/message-log.js';
import { endShelving } from '../alarms/save-alarm.js';
import { openRunEndsAt } from '../fold/run-end.js';
import { publishTurn } from './publish-turn.js';
import type { StreamMemory } from './stream-memory.js';
import { topicOf, type Carriage } from '../fold/carriage.js';
import { runBeingWelded, publishLiveState } from '../answers/publish-live-state.js';
import { isFolded, needsRefold } from '../fold/fold-state.js';
import type { Intake } from '../fold/intake.js';
import { markDueAt, noteAlarmsPublished, noteMarked, noteNews, noteNewsAtOnce } from '../fold/outbox.js';
import { lacksNewest } from '../fold/stored-alarms.js';

/** How many boots the `stored` topic names. */
const storedBoots = 4;

export type PublishRetained = (topic: string, payload: string) => void;

/**
 * Does everything that is due for the carriages that got a message or whose time has come. Flooding carriages are folded for `foldFor` ms; `again`
 * are the carriages that were folded again. No other carriage is touched.
 */
export function runDueWork(streams: StreamMemory, publish: PublishRetained, foldFor = Infinity, again: Iterable<Carriage> = []): void {
  const { fold: deps, woken, due, toRefold, lackingAlarms } = streams;
  const now = deps.steady();
  const touched = foldInTurn(streams, foldFor);
  for (const carriage of again) touched.add(carriage);
  const atHand = new Set([...woken, ...touched, ...due.take(now)]);
  woken.clear();
  for (const carriage of atHand) {
    const { intake, fold, alarms } = carriage;
    writeMessageLog(carriage, deps.changes);
    intake.knownTimes.clear();
    guardStream(carriage, streams, () => { advanceStream(carriage, deps, now, touched.has(carriage)); });
    saveMarks(carriage, deps);
    publishAlarms(carriage, deps, publish);
    publishTurn(carriage, publish);
    publishStored(carriage, now, publish);
    due.put(carriage, nextDue(carriage, deps));
    if (needsRefold(fold)) toRefold.add(carriage);
    if (fold.fault === null && lacksNewest(alarms.stored)) lackingAlarms.add(carriage);
  }
}

function advanceStream(carriage: Carriage, deps: FoldDeps, now: number, touched: boolean): void {
  const { fold, outbox } = carriage;
  if (!isFolded(fold)) return;
  const hasOpenEnded = openRunEndsAt(carriage, deps) <= deps.now();
  if (hasOpenEnded) noteNews(outbox);
  if (outbox.changesAt <= deps.now() || outbox.restsAt <= now) noteNewsAtOnce(outbox);
  const isDue = outbox.flushAt <= now;
  // A run that is recorded as over takes its alarms along.
  const must = mustRecord(carriage, hasOpenEnded);
  const ends = must && outbox.flushAt < Infinity;
  if (touched || isDue || ends) raiseRunAlarms(carriage, isDue || ends, deps);
  raiseSilenceAlarm(carriage, deps);
  endShelving(carriage, deps);
  if (outbox.flushAt === Infinity) return;
  if (isDue) followSequence(carriage, deps);
  if (outbox.flushAt <= now || must) writeRunRecords(carriage, deps);
  else if (outbox.tellAt <= now) publishLiveState(carriage, deps);
}

/** Whether the records must be written now: when runs begin or end, and with a checkpoint, since the runs in it would never begin again. */
function mustRecord({ intake, fold, runs, outbox }: Carriage, hasOpenEnded: boolean): boolean {
  if (outbox.unrecorded !== null) return true;
  const { run } = fold.live.head.merge;
  if (runs.finished.size > 0 || run?.ordinal !== runs.open?.ordinal) return true;
  return run !== null && run.epoch < intake.timeline.length - 1 && hasOpenEnded;
}

/** When anything is next due for a carriage if nothing comes, µs of the steady clock. Folding again waits for its turn instead (refold-turns.ts). */
function nextDue(carriage: Carriage, deps: FoldDeps): number {
  const { kind, fold, alarms, outbox } = carriage;
  const mark = kind === 'live' ? markDueAt(outbox) : Infinity;
  if (fold.fault !== null) return mark;
  if (!isFolded(fold)) return Infinity;
  // The mark is published after the records.
  if (outbox.flushAt < Infinity) return Math.min(outbox.flushAt, outbox.tellAt);
  const byArrival = Math.min(silenceDueAt(carriage, deps), openRunEndsAt(carriage, deps), outbox.changesAt, ...alarms.atHand.map(({ shelvedUntil }) => shelvedUntil ?? Infinity));
  return Math.min(mark, outbox.restsAt, deps.steady() + byArrival - deps.now());
}

/** Publishes the alarms for a lamp or a controller, which finds the newest state at the broker whenever it connects. */
function publishAlarms(carriage: Carriage, deps: FoldDeps, publish: PublishRetained): void {
  const { kind, intake, outbox } = carriage;
  if (!outbox.alarmsChanged || kind === 'log') return;
  noteAlarmsPublished(outbox);
  if (!intake.retired) publish(`${topicOf(carriage)}/alarms`, JSON.stringify(carriageAlarms(carriage, runBeingWelded(carriage), deps)));
}

/** Publishes the `stored` mark after the commit, and only once the figures contain what it says. */
function publishStored(carriage: Carriage, now: number, publish: PublishRetained): void {
  const { kind, intake, fold, outbox } = carriage;
  if (kind === 'log' || markDueAt(outbox) > now) return;
  if (fold.fault === null && (!isFolded(fold) || outbox.flushAt < Infinity)) return;
  noteMarked(outbox, now);
  if (!intake.retired) publish(`${topicOf(carriage)}/stored`, storedText(intake));
}

function storedText({ boots, bootOrder }: Intake): string {
  const told = bootOrder.slice(-storedBoots).flatMap((name) => {
    const boot = boots.get(name);
    const mark = boot === undefined ? null : storedMark(boot.marks.any);
    return mark === null ? [] : [{ boot: name, ...mark }];
  });
  return JSON.stringify({ boots: told });
}

/** Publishes the retained messages of a carriage with nothing in progress: at the start the broker may know nothing of it. */
export function publishSettled(carriage: Carriage, { fold: deps }: StreamMemory, publish: PublishRetained): void {
  publish(`${topicOf(carriage)}/alarms`, JSON.stringify(carriageAlarms(carriage, null, deps)));
  if (carriage.intake.bootOrder.length > 0) publish(`${topicOf(carriage)}/stored`, storedText(carriage.intake));
}
