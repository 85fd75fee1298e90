import { setImmediate } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import { runSchema } from '../api-types/run.js';
import { readStored } from '../records/damage.js';
import { allExcursions, newestExcursions, type ExcursionPage, type StoredExcursion } from '../records/excursions.js';
import { isAsWritten, readRecord } from '../records/record-sum.js';
import { findRun, type FoundRun, type StoredRun } from '../records/runs.js';
import { sharedPasses } from '../records/shared-passes.js';
import type { Database } from '../records/tables.js';
import { absenceText, type Absence } from '../weld/run/absence.js';
import { damageError, isDamageError } from '../sqlite/damage.js';
import { sqliteCode } from '../sqlite/sqlite-error.js';
import type { TraceReader } from '../traces/trace-store.js';
import type { WeldSettings } from '../weld/weld-settings.js';
import { convertToShape, isPart, partAt, type ShapePath } from './convert-to-shape.js';
import { recomputeRun, type RecomputedRun } from './recompute-run.js';
import { runShape, storedExcursionsSchema, storedZonesSchema, type StoredZone } from './run-shape.js';
import { textWithSharedSeam, withSharedSeam } from './shared-seam.js';

/** The only way in which a stored run becomes an answer. */
export interface AnsweredRuns {
  /** Its record. */
  record(run: StoredRun): Promise<unknown>;
  /** Records of a list, as JSON; a record that differs from what was written becomes a text that is not JSON, so that the list leaves it out. */
  records(rows: readonly FoundRun[]): Promise<string[]>;
  zones(run: StoredRun): Promise<readonly StoredZone[]>;
  /** All of them, the oldest first; and a page of them from the newest on. */
  excursions(run: StoredRun): Promise<readonly StoredExcursion[]>;
  excursionPage(run: StoredRun, from: number, limit: number): Promise<ExcursionPage>;
}

/** How many converted records of an earlier shape are cached: working one out may mean reading all its rows. */
const mostRemembered = 1_000;

/**
 * Runs that an earlier program recorded are answered in today's shape: what that program did not record is worked out from their rows and marks, or is null
 * with a reason if these do not contain it. What it did record stays. Nothing is written, as the connection only reads.
 */
export function answeredRuns(records: Kysely<Database>, traces: TraceReader, settings: Pick<WeldSettings, 'temperatureAge'>): AnsweredRuns {
  const worked = new WeakMap<StoredRun, Promise<RecomputedRun | null>>();
  const remembered = new Map<string, { readonly record: string; readonly value: unknown }>();

  function anew(run: StoredRun): Promise<RecomputedRun | null> {
    const known = worked.get(run);
    if (known !== undefined) return known;
    const working = recomputeRun(records, traces, run, settings).catch((thrown: unknown) => {
      // The store being away is another matter.
      if (sqliteCode(thrown) !== null) throw thrown;
      return null;
    });
    worked.set(run, working);
    return working;
  }

  async function ownRecord(run: StoredRun | FoundRun): Promise<unknown> {
    const stored = readRecord<unknown>(run, (own) => own);
    if (run.record_shape === runShape) return stored;
    const known = remembered.get(run.id);
    if (known?.record === run.record) return known.value;
    const value = runSchema.safeParse(stored).success ? stored : await completed(run, stored);
    if (remembered.size >= mostRemembered) remembered.clear();
    remembered.set(run.id, { record: run.record, value });
    return value;
  }

  /** A stored record with what it lacks. */
  async function completed(run: StoredRun | FoundRun, stored: unknown): Promise<unknown> {
    // Other requests are answered between two runs that take long.
    await setImmediate();
    const whole = 'marks' in run ? run : await findRun(records, run.id);
    const worked = whole === undefined ? null : await anew(whole);
    // Rows that no longer give the arcs of the record say nothing about it.
    return withLacking(run.id, stored, worked !== null && arcsOf(worked.record) === arcsOf(stored) ? worked.record : null);
  }

  async function shown(row: FoundRun, isShared: boolean): Promise<string> {
    if (!isAsWritten(row)) return '';
    return textWithSharedSeam(row.record_shape === runShape ? row.record : JSON.stringify(await ownRecord(row)), isShared);
  }

  async function excursions(run: StoredRun): Promise<readonly StoredExcursion[]> {
    const stored = await allExcursions(records, run);
    if (run.record_shape === runShape || storedExcursionsSchema.safeParse(stored).success) return stored;
    const found = new Map((await anew(run))?.excursions.map((own) => [own.id, own]));
    return fitted(`the excursions of run ${run.id}`, () => convertToShape(storedExcursionsSchema, stored, stored.map(({ id }) => found.get(id))).value) as StoredExcursion[];
  }

  return {
    record: async (run) => withSharedSeam(await ownRecord(run), (await sharedPasses(records, [run.id])).has(run.id)),
    records: async (rows) => {
      const texts: string[] = [];
      const shared = await sharedPasses(records, rows.map(({ id }) => id));
      for (const row of rows) texts.push(await shown(row, shared.has(row.id)).catch(nothingWhereDamaged));
      return texts;
    },
    async zones(run) {
      const what = `what is kept of run ${run.id}`;
      const stored = storedZonesSchema.safeParse(readStored(what, run.marks, (marks) => (marks as { readonly zones?: unknown }).zones));
      if (stored.success) return stored.data;
      const own = await anew(run);
      if (own === null) throw damageError('seamwarden.db', what, stored.error);
      return own.zones;
    },
    excursions,
    async excursionPage(run, from, limit) {
      if (run.record_shape === runShape) return await newestExcursions(records, run, from, limit);
      const all = (await excursions(run)).toReversed();
      return { items: all.slice(from, from + limit).map((own) => JSON.stringify(own)), next: all.length > from + limit ? from + limit : null };
    },
  };
}

function nothingWhereDamaged(thrown: unknown): string {
  if (isDamageError(thrown)) return '';
  throw thrown;
}

/** `anew` is null if the record cannot be worked out. */
function withLacking(run: string, stored: unknown, anew: unknown): unknown {
  return fitted(`the record of run ${run}`, () => {
    const { value, filled } = convertToShape(runSchema, stored, anew);
    for (const path of filled) if (partAt(value, path) === null) giveReason(value, path, anew);
    return value;
  });
}

function fitted(what: string, fit: () => unknown): unknown {
  try {
    return fit();
  } catch (thrown) {
    throw damageError('seamwarden.db', what, thrown);
  }
}

function arcsOf(record: unknown): string {
  const arcs = partAt(record, ['arcs']);
  return Array.isArray(arcs) ? arcs.map((own: unknown) => String(partAt(own, ['arc']))).join(' ') : '';
}

/** Gives the reason for a null figure that an earlier program did not record, in the part to which it belongs. */
function giveReason(value: unknown, path: ShapePath, anew: unknown): void {
  for (let depth = path.length - 1; depth >= 0; depth -= 1) {
    const place = path.slice(0, depth);
    const absent = partAt(value, [...place, 'absent']);
    if (!isPart(absent)) continue;
    const name = path.slice(depth).join('.');
    const why: Absence = { code: anew === null ? 'rowsLost' : 'notNoted' };
    absent[name] = partAt(anew, [...place, 'absent', name]) ?? absenceText(why);
    const reasons = partAt(value, [...place, 'reasons']);
    if (isPart(reasons)) reasons[name] = partAt(anew, [...place, 'reasons', name]) ?? why;
    return;
  }
}
