import { untouched } from '../../shared/weld/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import { seamPosition } from '../../shared/weld/seam-position.js';
import type { FoldDeps } from './fold-deps.js';
import { keepAlarm, newAlarmId } from './keep-alarms.js';
import type { StreamState } from './stream-state.js';

/** µs of arrival time without an item, while an arc was on, after which that is an alarm; common practice, no source. */
const silentFor = 5_000_000;

interface Silence {
  /** Null where nothing comes from the carriage at all. */
  readonly arc: number | null;
  /** Arrival of the last item, µs. */
  readonly since: number;
}

/** Raises `noData` where items have stopped under a burning arc, and returns it with the next item. */
export function followSilence(stream: StreamState, deps: FoldDeps): void {
  const silent = silences(stream, deps);
  if (silent.length === 0 && stream.alarms.length === 0) return;
  for (const alarm of standing(stream)) {
    const heard = heardAgain(stream, alarm);
    if (heard === null) continue;
    const lasted = (heard - (stream.silences.get(alarm.id) ?? alarm.since)) / 1e6;
    stream.silences.delete(alarm.id);
    keepAlarm(stream, { ...alarm, worst: Math.max(lasted, alarm.worst ?? 0), returnedAt: heard }, deps);
  }
  for (const own of silent) {
    if (isTold(stream, own)) continue;
    const alarm = newSilence(stream, own, deps);
    stream.silences.set(alarm.id, own.since);
    keepAlarm(stream, alarm, deps);
  }
}

/** When a silence is to be told, if nothing comes, µs of arrival; `Infinity` where none is. */
export function silenceDueAt(stream: StreamState, deps: FoldDeps): number {
  return Math.min(Infinity, ...mayBeSilent(stream, deps).flatMap((own) => (isTold(stream, own) ? [] : [silentAt(own, deps)])));
}

/** When something came again, by arrival, µs; null while nothing has. One from before the start has ended when anything came since. */
function heardAgain(stream: StreamState, alarm: AlarmFacts): number | null {
  const heard = alarm.arc === null ? (stream.heard.size > 0 ? stream.lastSeen : null) : (stream.heard.get(alarm.arc) ?? null);
  const since = stream.silences.get(alarm.id);
  return heard !== null && (since === undefined || heard > since) ? heard : null;
}

function standing(stream: StreamState): AlarmFacts[] {
  return stream.alarms.filter((alarm) => alarm.quantity === 'noData' && alarm.returnedAt === null);
}

function isTold(stream: StreamState, { arc }: Silence): boolean {
  return standing(stream).some((alarm) => alarm.arc === arc || alarm.arc === null);
}

/** What is silent for long by now: the carriage, or else some of its arcs. */
function silences(stream: StreamState, deps: FoldDeps): Silence[] {
  const silent = mayBeSilent(stream, deps).filter((own) => deps.now() >= silentAt(own, deps));
  return silent[0]?.arc === null ? silent.slice(0, 1) : silent;
}

/** While nothing could be taken here, the silence was not the carriage's. */
function silentAt({ since }: Silence, deps: FoldDeps): number {
  return Math.max(since, deps.listeningSince()) + silentFor;
}

/** The carriage and its arcs that burn, and since when nothing has come of each. */
function mayBeSilent(stream: StreamState, deps: FoldDeps): Silence[] {
  const { merge, arcs } = stream.live.head;
  const { lastSeen } = stream;
  if (stream.stream !== '' || merge.run === null || lastSeen === null) return [];
  const on = arcs.flatMap((own) => (own.on ? [{ arc: own.arc, since: lastHeard(stream, own.arc, deps) }] : []));
  return on.length === 0 ? [] : [{ arc: null, since: lastSeen }, ...on];
}

/** Arrival of the newest item of an arc, µs. What was read from the store may have come by a clock that ran ahead. */
function lastHeard(stream: StreamState, arc: number, deps: FoldDeps): number {
  const heard = stream.heard.get(arc) ?? stream.newestOfArc.get(arc)?.arrived ?? Infinity;
  return heard === Infinity || heard <= deps.now() ? heard : deps.listeningSince();
}

function newSilence(stream: StreamState, { arc, since }: Silence, deps: FoldDeps): AlarmFacts {
  const { run } = stream.live.head.merge;
  const entry = run === null ? undefined : stream.runs.get(run.ordinal);
  const assignment = run === null ? null : (stream.timeline[run.epoch]?.body ?? null);
  const travelled = run?.sums.travelled ?? null;
  return {
    id: newAlarmId(), run: entry?.id ?? null, seam: assignment?.seam ?? null, runNumber: assignment?.run ?? null, arc, quantity: 'noData', limit: silentFor / 1e6, worst: silentFor / 1e6,
    priority: 'high', response: null, since, raisedAt: since + silentFor, recordedAt: deps.now(), travelled,
    seamPosition: travelled === null ? null : seamPosition(assignment, travelled),
    ...untouched,
  };
}
