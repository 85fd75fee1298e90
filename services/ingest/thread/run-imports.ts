import { rm } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { spoolLog, type SpooledLog } from '../../csv/spool-log.js';
import { readLog } from '../../csv/read-log.js';
import type { ImportAnswer, ImportRequest, PortFailure } from '../../ingest-port.js';
import type { CallName, WorkerCalls } from './worker-protocol.js';

export type Call = <Name extends CallName>(name: Name, ...args: WorkerCalls[Name]['args']) => Promise<WorkerCalls[Name]['answer'] | PortFailure>;

/** How long a log waits for the one before it, ms: small ones follow one another; after a large one the sender should try again. */
const waitAtMost = 5_000;

export interface Imports {
  readonly run: (request: ImportRequest, log: AsyncIterable<Uint8Array>, gone: AbortSignal) => Promise<PortFailure | ImportAnswer>;
  /** Stops the import that is running; the next start removes what is stored of it. */
  stop(): void;
}

/**
 * Imports logs, one at a time: each goes into a file of our own, is read there in a separate thread, and is stored by the recorder in slices between
 * the messages of carriages. Either all of a log is stored or nothing.
 */
export function runImports(folder: string, call: Call): Imports {
  const stopped = new AbortController();
  let turn: Promise<unknown> = Promise.resolve();

  async function imported(request: ImportRequest, log: AsyncIterable<Uint8Array>, gone: AbortSignal): Promise<PortFailure | ImportAnswer> {
    let spooled: SpooledLog;
    try {
      spooled = await spoolLog(log, folder);
    } catch (error) {
      if (!isDiskError(error)) throw error;
      return { failed: 'storage', reason: `storage does not take the log: ${error.message}` };
    }
    try {
      return await take(request, spooled, gone);
    } finally {
      await rm(spooled.file, { force: true });
    }
  }

  async function take(request: ImportRequest, spooled: SpooledLog, gone: AbortSignal): Promise<PortFailure | ImportAnswer> {
    const { start, ...named } = { ...request, boot: spooled.boot };
    const held = await call('findLog', { ...named, start });
    if (held !== null && 'failed' in held) return held;
    const reader = await readLog({ ...spooled, start });
    const end = (): void => void reader.close();
    stopped.signal.addEventListener('abort', end, { once: true });
    try {
      const { outline } = reader;
      if (outline.failure !== null) return { failed: 'invalid', reason: outline.failure };
      const [first] = outline.refused;
      if (outline.items === 0) return { failed: 'invalid', reason: `the log holds no line that can be used${first === undefined ? '' : `; line ${first.line}: ${first.reason}`}` };
      const lines = { lines: outline.lines, refusedLines: outline.refusedLines, refused: outline.refused };
      if (held !== null) return { runs: held.runs, stored: 0, duplicate: outline.items, ...lines, also: [] };
      const begun = await call('beginImport', { ...named, start, relativeTime: outline.relativeTime });
      if ('failed' in begun) return begun;
      const failure = await takeSlices(reader, gone);
      if (failure !== null) {
        await call('giveUpImport');
        return failure;
      }
      const placed = outline.relativeTime && start === null ? null : outline.span;
      const done = await call('endImport', placed);
      if ('failed' in done) {
        await call('giveUpImport');
        return done;
      }
      return { runs: done.runs, stored: outline.items, duplicate: 0, ...lines, also: done.also };
    } finally {
      stopped.signal.removeEventListener('abort', end);
      await reader.close();
    }
  }

  return {
    run: async (request, log, gone) => {
      const before = turn;
      let over = (): void => undefined;
      const own = new Promise<void>((resolve) => (over = resolve));
      turn = before.then(() => own);
      try {
        const free = await Promise.race([before.then(() => true), wait(waitAtMost, false, { ref: false })]);
        if (!free) return { failed: 'busy', reason: 'another log is being imported. Only one is imported at a time: try again when it is done.' };
        return await imported(request, log, gone);
      } finally {
        over();
      }
    },
    stop: () => { stopped.abort(); },
  };

  async function takeSlices(reader: { next(): Promise<Uint8Array | null> }, gone: AbortSignal): Promise<PortFailure | null> {
    for (let slice = await reader.next(); slice !== null; slice = await reader.next()) {
      if (gone.aborted) return { failed: 'invalid', reason: 'who sent the log has gone before it was stored' };
      const taken = await call('takeSlice', slice);
      if ('failed' in taken) return taken;
    }
    return null;
  }
}

function isDiskError(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && 'code' in error && ['ENOSPC', 'EDQUOT', 'EIO', 'EROFS', 'EACCES', 'EPERM', 'EFBIG', 'ENOENT'].includes(String(error.code));
}
