import type { PortFailure } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import { keepAlarm } from './keep-alarms.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamState } from './stream-state.js';

export interface GoneCarriage {
  readonly site: string;
  readonly carriage: string;
}

/** µs without a message after which a carriage that never welded and has no job is forgotten; common practice, no source. */
const unusedFor = 30 * 86_400e6;

/**
 * Takes a carriage away: one without runs is forgotten, one with runs is retired, so that its runs stay and it is shown nowhere
 * until it sends again. None that welds is taken away.
 */
export function retireCarriage(streams: StreamAccess, site: string, carriage: string): PortFailure | GoneCarriage {
  const { statements } = streams.fold;
  const row = statements.streamByName.get(site, carriage, '');
  // Asking for a carriage makes it.
  if (row === undefined || row.retired === 1) return { failed: 'notFound', reason: `there is no carriage ${site}/${carriage}` };
  const stream = streams.stream(site, carriage, '');
  if (isWelding(stream)) return { failed: 'conflict', reason: `${site}/${carriage} is welding; it can be removed when its arc is out` };
  if (statements.hasHistory.get(stream.id, stream.id, carriage, site) === undefined) forgetCarriage(streams, stream);
  else retire(streams, stream);
  return { site, carriage };
}

function isWelding(stream: StreamState): boolean {
  const { merge, arcs } = stream.live.head;
  const entry = merge.run === null ? undefined : stream.runs.get(merge.run.ordinal);
  return entry?.finished === null && arcs.some((own) => own.on);
}

function retire(streams: StreamAccess, stream: StreamState): void {
  const { fold } = streams;
  if ((stream.timeline.at(-1)?.body ?? null) !== null) assignStream(stream, null, null, fold);
  // Nobody will come back to end them.
  for (const alarm of stream.alarms.filter(({ quantity, returnedAt }) => (quantity === 'noData' || quantity === 'sequence') && returnedAt === null)) {
    keepAlarm(stream, { ...alarm, returnedAt: Math.max(fold.now(), alarm.raisedAt) }, fold);
  }
  stream.retired = true;
  stream.unflushed = true;
  stream.flushedAt = 0;
  streams.countAgain();
}

function forgetCarriage(streams: StreamAccess, stream: StreamState): void {
  streams.forget(stream);
  for (const statement of streams.fold.statements.forgetStream) statement.run(stream.id);
  streams.countAgain();
}

/** Forgets carriages that never welded, have no job, and were not heard for a month: a wrong name, a trial. */
export function forgetUnused(streams: StreamAccess): GoneCarriage[] {
  const { statements, now } = streams.fold;
  return statements.unusedCarriages.all(now() - unusedFor).map(({ site, carriage }) => {
    forgetCarriage(streams, streams.stream(site, carriage, ''));
    return { site, carriage };
  });
}
