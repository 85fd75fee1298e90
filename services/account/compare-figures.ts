import { isDeepStrictEqual } from 'node:util';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { timelineContext, type TemperatureOf } from '../../shared/weld/run/assignment-timeline.js';
import { foldItem, settleFold, startFold } from '../../shared/weld/run/carriage-fold.js';
import { collect, type FoldOutput } from '../../shared/weld/run/live-fold.js';
import { comparePositions } from '../../shared/weld/items/order.js';
import { procedureParameters, type ProcedureOutline } from '../../shared/weld/procedure/procedure-parameters.js';
import { judgedFigures, judgedSums, runMarks } from '../../shared/weld/run/run-figures.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure, type ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { checkedFold } from '../ingest/fold/fold-checkpoint.js';
import { pinEarlier } from '../ingest/fold/fold-deps.js';
import { foldShape } from '../ingest/fold/fold-shape.js';
import type { SavedSpan } from '../ingest/fold/run-book.js';
import type { StoredCarriage } from './stored-carriage.js';
import { storedTemperatures } from './stored-temperatures.js';

/** How many of a carriage's newest runs are computed again. */
const mostRuns = 200;

export interface FigureOptions {
  readonly settings: WeldSettings;
  /** Runs that ended before this are decided and stay as they are, µs since 1970. */
  readonly decidedBefore: number;
}

interface StoredFigures {
  readonly id: string;
  readonly started: number;
  readonly ended: number | null;
  readonly finished: number | null;
  readonly override: string | null;
  readonly span: SavedSpan;
  readonly record: string;
}

/**
 * Computes the runs that can still change from the kept items, one by one in order, as plainly as `replay` does, and lists where the
 * stored figures differ, which runs the store lacks, and which of those it holds open have ended. What was let go of stands in the state at the floor.
 */
export function compareFigures(db: SqliteFile, carriage: StoredCarriage, { settings, decidedBefore }: FigureOptions): string[] {
  const stored = db.prepare<[number, number], Omit<StoredFigures, 'span'> & { readonly span: string }>('select id, started, ended, finished, override, span, record from runs where stream_id = ? order by started desc limit ?').all(carriage.id, mostRuns)
    .map((row): StoredFigures => ({ ...row, span: JSON.parse(row.span) as SavedSpan }));
  const open = stored.filter(({ finished, override }) => finished !== null && finished >= decidedBefore && override === null);
  // If everything is decided, or nothing was kept, there is nothing to compute.
  if (decidedBefore === Infinity || (open.length === 0 && carriage.kept.length === 0)) return [];
  const temperature = storedTemperatures(db, carriage, new Map(stored.map(({ id, span }) => [span.ordinal, id])), settings);
  const runs = foldKept(db, carriage, { settings, temperature }, new Map(stored.filter(({ override }) => override === null).map(({ span }) => [span.epoch, span.revision])));
  if (runs === null) return [];
  const differing = open.flatMap(({ id, span, record }) => {
    const run = runs.get(span.ordinal);
    if (run === undefined) return [`run ${id} is stored, and the items in order do not make it`];
    const marks = { ...runMarks(run), finished: true };
    const figures = judgedFigures(marks, judgedSums(marks, run.sums));
    const told = JSON.parse(record) as Record<string, unknown>;
    return Object.entries(JSON.parse(JSON.stringify(figures)) as Record<string, unknown>).flatMap(([name, value]) =>
      name === 'flags' || name === 'absent' || name === 'reasons' || isDeepStrictEqual(told[name], value) ? [] : [`run ${id}: ${name} is ${short(told[name])}, the items in order give ${short(value)}`],
    );
  });
  return [...differing, ...unrecorded(stored, [...runs.values()].filter(({ finished }) => finished))];
}

/** A service that was killed may have kept items that it had not folded. */
const atNextStart = '; where the service was killed, its next start records it';

/** Differences between the store and the items in order: runs that it lacks, as far back as the compared ones go, and runs that it holds open. */
function unrecorded(stored: readonly StoredFigures[], ended: readonly RunState[]): string[] {
  const oldest = stored.at(-1)?.started ?? -Infinity;
  return ended.filter(({ start }) => start >= oldest || stored.length < mostRuns).flatMap((run) => {
    const there = stored.filter(({ started, ended: last }) => started <= run.lastOn && (last ?? Infinity) >= run.start);
    if (there.length === 0) return [`the items in order make a run from ${new Date(run.start / 1e3).toISOString()} on that is not stored${atNextStart}`];
    const held = there.find(({ span, finished }) => finished === null && span.ordinal === run.ordinal);
    return held === undefined ? [] : [`run ${held.id} is stored as being welded, and the items in order end it${atNextStart}`];
  });
}

/** The runs by their ordinals; null if the state at the floor has another shape. `revisions`: of the procedure of each assignment under which a run is stored. */
function foldKept(db: SqliteFile, carriage: StoredCarriage, { settings, temperature }: { readonly settings: WeldSettings; readonly temperature: TemperatureOf }, revisions: Map<number, number | null>): Map<number, RunState> | null {
  const floor = carriage.checkpoints.find(({ place }) => place.floor === true);
  if (floor !== undefined && floor.place.shape !== foldShape()) return null;
  const saved = floor === undefined ? undefined : db.prepare<[number], { state: Uint8Array }>('select state from checkpoints where id = ?').get(floor.id);
  const state = floor === undefined || saved === undefined ? startFold() : checkedFold(saved.state, floor.place, floor.keptFrom);
  if (state === null) throw new Error('the state behind which its items are kept is other than it was written');
  const context = timelineContext(carriage.timeline, settings, (body, epoch) => parametersOf(db, body, revisions.get(epoch) ?? null), carriage.sensors, temperature);
  pinEarlier(revisions, carriage.timeline, context);
  const output: FoldOutput[] = [];
  const sink = collect(output);
  const behind = carriage.kept.filter((item) => state.position === null || comparePositions(item, state.position) > 0);
  for (const item of [...behind].sort(comparePositions)) foldItem(state, item, context, sink);
  settleFold(state, context, sink);
  const runs = new Map(output.flatMap((own) => (own.type === 'finished' ? [[own.run.ordinal, own.run] as const] : [])));
  for (const run of [state.merge.resumable, state.merge.run]) if (run !== null) runs.set(run.ordinal, run);
  return runs;
}

function parametersOf(db: SqliteFile, body: Assignment | null, revision: number | null): ProcedureParameters {
  if (body?.procedure === undefined || revision === null) return noProcedure;
  const row = db.prepare<[string, number], { body: string }>('select body from procedures where id = ? and revision = ?').get(body.procedure, revision);
  return row === undefined ? noProcedure : procedureParameters(JSON.parse(row.body) as ProcedureOutline, body);
}

function short(value: unknown): string {
  return ((JSON.stringify(value) as string | undefined) ?? 'nothing').slice(0, 120);
}
