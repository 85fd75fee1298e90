import { parseTopic } from '../../../shared/weld/decode/decode-topic.js';
import { sizeProblem } from '../../../shared/weld/decode/parse-json.js';
import type { TraceReader } from '../../../shared/traces/trace-store.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { guardStream, tellFault } from './guard-stream.js';
import type { Statements } from '../store/statements.js';
import { foldAgain } from './fold-again.js';
import type { Store } from '../store/open-store.js';
import { openCheckpoints } from './read-checkpoints.js';
import { loadStream } from './stream-load.js';
import { keyOf, streamMemory, takesBack, type Addressed, type StreamMemory } from './stream-memory.js';
import { streamChange, type Carriage } from '../fold/carriage.js';
import { assignmentInForce } from '../fold/in-force.js';
import { noteNews } from '../fold/outbox.js';

/** How many carriages may exist at a time: anybody who reaches the broker can create them, and each costs memory while it exists. */
export const mostCarriages = 10_000;

/** The carriages and logs, in memory or read from the store. */
export interface StreamAccess extends StreamMemory {
  readonly statements: Statements;
  readonly traces: TraceReader;
  /** Throws an error of damage if the trace of a run was finished and no longer consists of the parts that were written. */
  readonly checkTrace: (run: string) => void;
  /** Returns the stream of that name, reads it if it is not in memory, and creates it if it is new. Throws if there are too many carriages. */
  stream(site: string, carriage: string, stream: string): Carriage;
  /** The kind and the stream of a topic, or why it is refused, empty if it is to be ignored. An empty message creates no carriage. */
  ofTopic(topic: string, empty?: boolean): Addressed | { readonly reason: string };
  /** Notes which carriages have to be read after a start. */
  loadLive(): void;
  /** Reads some of those until `end`, µs of the steady clock; returns whether there are more. */
  loadMore(end: number): boolean;
}

export interface AccessOptions {
  readonly fold: FoldDeps;
  readonly store: Pick<Store, 'statements' | 'traces' | 'checkTrace'>;
  readonly log: StreamMemory['log'];
  readonly onLimit?: () => void;
  readonly mostCarriages?: number | undefined;
}

export function streamAccess({ fold, store, log, onLimit = () => undefined, mostCarriages: most = mostCarriages }: AccessOptions): StreamAccess {
  const { statements, traces } = store;
  const memory = streamMemory(fold, log);
  let toLoad: { readonly site: string; readonly carriage: string }[] = [];

  /** Whether one more carriage may be created. */
  function isRoom(): boolean {
    memory.carriages ??= statements.countCarriages.get()?.count ?? 0;
    if (memory.carriages < most) return true;
    onLimit();
    return false;
  }

  function load(site: string, carriage: string, stream: string): Carriage {
    const found = statements.findStream.get(site, carriage, stream);
    if (stream === '' && found === undefined) {
      if (!isRoom()) throw new Error(limitReason(most));
      memory.carriages = (memory.carriages ?? 0) + 1;
    }
    const own = loadStream(statements, site, carriage, stream, fold, (what) => { tellFault(site, carriage, what, access); });
    const { intake, outbox } = own;
    // A new stream is stored, and a stream in memory is not settled.
    if (outbox.settled !== false) fold.changes.streams.push(streamChange(own, false));
    guardStream(own, access, () => { openCheckpoints(own, statements, fold); });
    // No messages of an imported log are kept that could be folded again: its rows are all there is.
    if ((own.kind === 'live' && own.runs.entries.size > 0) || statements.firstKept.get(own.id, 0) !== undefined) own.fold.dirtyFrom = 'latest';
    else own.fold.refoldedAt = fold.steady() / 1e3;
    // The carriage is known, but its state was last published by an earlier version.
    if (outbox.snapshot === null && (intake.lastSeen !== null || intake.online !== null || intake.timeline.length > 0)) noteNews(outbox);
    // A measurement may have grown too old meanwhile.
    if (own.kind === 'live' && (intake.temperatures.length > 0 || assignmentInForce(own)?.preparation?.preheatMeasured !== undefined)) noteNews(outbox);
    memory.all.set(keyOf(site, carriage, stream), own);
    return own;
  }

  function touch(carriage: Carriage): Carriage {
    carriage.intake.touchedAt = fold.steady();
    memory.woken.add(carriage);
    return carriage;
  }

  const access: StreamAccess = Object.assign(memory, {
    statements,
    traces,
    checkTrace: store.checkTrace,
    stream: (site: string, carriage: string, stream: string): Carriage => {
      const known = memory.all.get(keyOf(site, carriage, stream));
      if (known !== undefined) return touch(known);
      const own = touch(load(site, carriage, stream));
      // New items must not be mistaken for items from before all that is kept.
      foldAgain(own, access);
      return own;
    },
    ofTopic: (topic: string, empty = false): Addressed | { readonly reason: string } => {
      const known = memory.topics.get(topic);
      if (known !== undefined) {
        touch(known.carriage);
        return known;
      }
      const parsed = parseTopic(topic);
      if ('reason' in parsed) return parsed;
      const { site, carriage } = parsed;
      const isKnown = memory.all.has(keyOf(site, carriage, '')) || statements.findStream.get(site, carriage, '') !== undefined;
      if (!isKnown && empty) return { reason: takesBack(parsed.kind) ? '' : emptyReason };
      if (!isKnown && !isRoom()) return { reason: limitReason(most) };
      const addressed = { kind: parsed.kind, carriage: access.stream(site, carriage, '') };
      memory.topics.set(topic, addressed);
      return addressed;
    },
    loadLive: () => { toLoad = statements.unsettledStreams.all().reverse(); },
    loadMore: (end: number): boolean => {
      while (toLoad.length > 0 && fold.steady() < end) {
        const next = toLoad.pop();
        if (next !== undefined && !memory.all.has(keyOf(next.site, next.carriage, ''))) touch(load(next.site, next.carriage, ''));
      }
      return toLoad.length > 0;
    },
  });
  return access;
}

const emptyReason = sizeProblem(new Uint8Array()) ?? '';

function limitReason(most: number): string {
  return `there are ${most} carriages already, and no more are accepted; remove those that are no longer in use: DELETE /api/carriages/SITE/CARRIAGE`;
}
