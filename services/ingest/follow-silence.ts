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
    const heard = lastHeard(stream, alarm.arc);
    if (heard > alarm.since) keepAlarm(stream, { ...alarm, worst: (heard - alarm.since) / 1e6, returnedAt: heard }, deps);
  }
  for (const own of silent) {
    if (!isTold(stream, own)) keepAlarm(stream, newSilence(stream, own, deps), deps);
  }
}

/** Whether `followSilence` would change anything. */
export function silenceDue(stream: StreamState, deps: FoldDeps): boolean {
  return silences(stream, deps).some((own) => !isTold(stream, own)) || standing(stream).some((alarm) => lastHeard(stream, alarm.arc) > alarm.since);
}

function standing(stream: StreamState): AlarmFacts[] {
  return stream.alarms.filter((alarm) => alarm.quantity === 'noData' && alarm.returnedAt === null);
}

function isTold(stream: StreamState, { arc }: Silence): boolean {
  return standing(stream).some((alarm) => alarm.arc === arc || alarm.arc === null);
}

function silences(stream: StreamState, deps: FoldDeps): Silence[] {
  const { merge, arcs } = stream.live.head;
  const { lastSeen } = stream;
  if (stream.stream !== '' || merge.run === null || lastSeen === null || !isAnySilent(stream, deps.now())) return [];
  const on = arcs.flatMap((own) => (own.on ? [own.arc] : []));
  if (on.length === 0) return [];
  // While nothing could be taken here, the silence was not the carriage's.
  const isSilent = (since: number): boolean => deps.now() - Math.max(since, deps.listeningSince()) >= silentFor;
  if (isSilent(lastSeen)) return [{ arc: null, since: lastSeen }];
  return on.flatMap((arc) => {
    const since = lastHeard(stream, arc);
    return isSilent(since) ? [{ arc, since }] : [];
  });
}

/** Whether anything that was ever heard has been silent for long: asked of every carriage with every commit, and mostly the answer. */
function isAnySilent(stream: StreamState, now: number): boolean {
  for (const { arrived } of stream.newestOfArc.values()) if (now - arrived >= silentFor) return true;
  return now - (stream.lastSeen ?? now) >= silentFor;
}

function lastHeard(stream: StreamState, arc: number | null): number {
  return (arc === null ? stream.lastSeen : stream.newestOfArc.get(arc)?.arrived) ?? Infinity;
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
