import type { PortFailure } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import { keepAlarm } from './keep-alarms.js';
import type { StreamMemory } from './stream-memory.js';
import { keyOf } from './stream-memory.js';
import type { StreamState } from './stream-state.js';
import { noteNewsAtOnce } from './stream-news.js';

export interface GoneCarriage {
  readonly site: string;
  readonly carriage: string;
}

/** µs without a message after which a carriage that never welded and has no job is forgotten; common practice, no source. */
export const unusedFor = 30 * 86_400e6;

/** A carriage that is to be taken away, and whether it has runs or alarms. */
export interface LeavingCarriage {
  readonly stream: StreamState;
  readonly hasHistory: boolean;
}

/**
 * Takes a carriage away: one without runs is forgotten, one with runs is retired, so that its runs stay and it is shown nowhere
 * until it sends again. None that welds is taken away.
 */
export function retireCarriage({ stream, hasHistory }: LeavingCarriage, streams: StreamMemory): PortFailure | GoneCarriage {
  const { site, carriage } = stream;
  if (isWelding(stream)) return { failed: 'conflict', reason: `${site}/${carriage} is welding; it can be removed when its arc is out` };
  if (hasHistory) retire(streams, stream);
  else forgetCarriage(streams, stream);
  return { site, carriage };
}

function isWelding(stream: StreamState): boolean {
  const { merge, arcs } = stream.live.head;
  const entry = merge.run === null ? undefined : stream.runs.get(merge.run.ordinal);
  return entry?.finished === null && arcs.some((own) => own.on);
}

function retire(streams: StreamMemory, stream: StreamState): void {
  const { fold } = streams;
  if ((stream.timeline.at(-1)?.body ?? null) !== null) assignStream(stream, null, null, fold);
  // Nobody will come back to end them.
  for (const alarm of stream.alarms.filter(({ quantity, returnedAt }) => (quantity === 'noData' || quantity === 'sequence') && returnedAt === null)) {
    keepAlarm(stream, { ...alarm, returnedAt: Math.max(fold.now(), alarm.raisedAt) }, fold);
  }
  stream.retired = true;
  noteNewsAtOnce(stream);
  streams.carriages = null;
}

function forgetCarriage(streams: StreamMemory, stream: StreamState): void {
  streams.forget(stream);
  streams.fold.changes.drops.push({ stream: stream.id });
  streams.carriages = null;
}

/** One that never welded, has no job, and was not heard for a month: a wrong name, a trial. */
export interface UnusedCarriage extends GoneCarriage {
  readonly id: number;
}

export function forgetUnused(unused: readonly UnusedCarriage[], streams: StreamMemory): GoneCarriage[] {
  return unused.map(({ id, site, carriage }) => {
    const stream = streams.all.get(keyOf(site, carriage, ''));
    if (stream !== undefined) forgetCarriage(streams, stream);
    else streams.fold.changes.drops.push({ stream: id });
    return { site, carriage };
  });
}
