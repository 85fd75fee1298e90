import { sensorRevision } from '../../../shared/records/sensors.js';
import { foldItem, startFold, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { collect, startLiveFold, type FoldOutput } from '../../../shared/weld/run/live-fold.js';
import { orderItem } from '../../../shared/weld/items/order.js';
import { addSeq, emptySeqSet } from '../../../shared/weld/items/seq-marks.js';
import type { ImportAnswer, PortFailure } from '../../ingest-port.js';
import type { Timers } from '../clock.js';
import { assignStream } from '../writer/assign-stream.js';
import { takeSensors } from '../writer/declare-sensors.js';
import { addCheckpoint } from '../fold/checkpoints.js';
import { writeRunRecords } from '../records/write-run-records.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { keepOutput } from '../fold/fold-stream.js';
import { forgetImport } from '../writer/forget-import.js';
import { heldLog, type NamedLog } from './held-log.js';
import { importStatements } from '../store/import-statements.js';
import type { Recorder } from '../writer/recorder-options.js';
import type { Statements } from '../store/statements.js';
import { keepMarks } from '../fold/keep-marks.js';
import { ensureNamed, loadStream } from '../writer/stream-load.js';
import { streamChange, type Carriage } from '../fold/carriage.js';
import { bootOf, type BootState } from '../fold/intake.js';

/** A commit is made for this many rows of a log: with fewer the disk has more to sync, with more a carriage waits longer for its turn. */
const writeAtRows = 600;

/** How long to wait before trying again to remove an unfinished log, if storage could not be written, ms. */
const clearAgainMs = 10_000;

/** A log that is about to be imported. */
export interface BegunLog extends NamedLog {
  readonly file: string | null;
  readonly by: string | null;
  readonly relativeTime: boolean;
}

/** What the main thread asks of the recorder for one log; one log at a time. */
export interface ImportCalls {
  findLog(log: NamedLog): PortFailure | { readonly runs: readonly string[] } | null;
  beginImport(log: BegunLog): Promise<{ readonly ok: true }>;
  takeSlice(slice: Uint8Array): { readonly stored: number };
  endImport(span: { readonly from: number; readonly to: number } | null): { readonly runs: readonly string[]; readonly also: ImportAnswer['also'] };
  /** Removes what was stored of a log that is not imported to its end. */
  giveUpImport(): Promise<{ readonly ok: true }>;
}

interface Session {
  readonly carriage: Carriage;
  readonly deps: FoldDeps;
  /** Rows and ends of runs that are folded and not yet written. */
  output: FoldOutput[];
  readonly boot: BootState;
  readonly fold: FoldState;
  arrivals: number;
  noted: string;
}

/**
 * Imports logs into the store. A log is complete and its items come in order, so they are folded directly and its messages are not kept: only the
 * rows remain. Its runs are listed by the commit that marks the log as finished, so an interrupted import leaves nothing visible.
 */
export function importCalls(recorder: Recorder, statements: Statements, timers: Timers): ImportCalls {
  const imports = importStatements(statements.db);
  let session: Session | null = null;
  let clearing: Promise<{ readonly ok: true }> = Promise.resolve({ ok: true });

  function current(): Session {
    if (session === null) throw new Error('no log is being imported');
    return session;
  }

  /** Removals run one after the other: what one removes, another must not remove again. */
  function giveUp(): Promise<{ readonly ok: true }> {
    session = null;
    clearing = clearing.then(clear, clear);
    return clearing;
  }

  async function clear(): Promise<{ readonly ok: true }> {
    try {
      for (const row of imports.unfinished.all()) await forgetImport(row, recorder, timers);
    } catch (error) {
      timers.after(clearAgainMs, () => {
        if (session === null) giveUp().catch(() => undefined);
      });
      throw error;
    }
    return { ok: true };
  }

  return {
    findLog: (log) => heldLog(log, statements, imports),
    giveUpImport: giveUp,
    beginImport: async (log) => {
      await giveUp();
      session = recorder.change(
        ({ fold }) => {
          ensureNamed(log.assignment, statements, fold);
          const sensors = statements.newestSensors.get(log.site, log.carriage);
          return { carriage: loadStream(statements, log.site, log.carriage, log.boot, fold), sensors: sensors === undefined ? null : sensorRevision(sensors) };
        },
        ({ carriage, sensors }, { fold }) => {
          if (carriage.outbox.settled === null) fold.changes.streams.push(streamChange(carriage, false));
          takeSensors(carriage, sensors, fold);
          if (log.assignment !== null) assignStream(carriage, log.assignment, null, fold);
          carriage.intake.origin ??= { at: fold.now(), file: log.file, by: log.by };
          fold.changes.imports.push({ stream: carriage.id, ...carriage.intake.origin, zero: log.relativeTime ? (log.start ?? 0) : null });
          return { carriage, deps: fold, output: [], boot: bootOf(carriage.intake, log.boot), fold: startFold(), arrivals: 0, noted: '[]' };
        },
      );
      return { ok: true };
    },
    takeSlice: (slice) => {
      const own = current();
      const { items } = decodeReadings(slice);
      const sink = collect(own.output);
      const { context } = own.carriage.fold;
      const arrived = own.deps.now();
      for (const entry of items) {
        if (entry.kind === 'refused') throw new Error(`an item of the log: ${entry.reason}`);
        const { item } = entry;
        if (item.seq !== null) {
          addSeq((own.boot.marks.arcs[item.arc] ??= emptySeqSet()), item.seq);
          addSeq(own.boot.marks.any, item.seq);
        }
        foldItem(own.fold, orderItem(item, own.boot.rank, arrived, own.arrivals), context, sink);
        own.arrivals += 1;
      }
      own.carriage.intake.lastSeen = arrived;
      if (own.output.length >= writeAtRows) recorder.change(() => own, write);
      return { stored: items.length };
    },
    endImport: (span) => {
      const own = current();
      const { carriage } = own;
      const runs = recorder.change(() => own, (_, { fold }) => {
        write(own);
        carriage.fold.live = startLiveFold(own.fold);
        writeRunRecords(carriage, fold);
        keepMarks(carriage.id, { ...own.boot, taken: own.fold.held }, fold);
        // The state after the last item represents all of them: none of their messages is kept.
        if (own.fold.position !== null) addCheckpoint(carriage, own.fold, own.fold.position, fold.numbers.message + 1, fold, true);
        const ids = idsOf(carriage);
        fold.changes.imports.push({ stream: carriage.id, runs: JSON.stringify(ids), finished: fold.now() });
        return ids;
      });
      session = null;
      return { runs, also: knownRuns(carriage, span) };
    },
  };

  /** Writes the rows, and the ids under which they are stored, in case the import does not finish. */
  function write(own: Session): void {
    keepOutput(own.carriage, own.output, own.deps);
    own.output = [];
    const runs = JSON.stringify(idsOf(own.carriage));
    if (runs === own.noted) return;
    own.noted = runs;
    own.deps.changes.imports.push({ stream: own.carriage.id, runs, finished: null });
  }

  function knownRuns({ id, site, carriage, stream }: Carriage, span: { readonly from: number; readonly to: number } | null): ImportAnswer['also'] {
    const sameLog = imports.sameLog.all(stream, id).map((run) => ({ reason: 'sameLog' as const, run }));
    const overlapping = span === null ? [] : imports.sameTime.all(site, carriage, id, span.to, span.from);
    return [...sameLog, ...overlapping.map((run) => ({ reason: 'sameTime' as const, run }))]
      .map(({ reason, run: { id: run, site, carriage, seam, run: runNumber } }) => ({ reason, run, site, carriage, seam, runNumber }));
  }
}

function idsOf(carriage: Carriage): string[] {
  return [...carriage.runs.entries.values()].sort((a, b) => a.ordinal - b.ordinal).map((entry) => entry.id);
}
