import type { Kysely } from 'kysely';
import type { RunExcursion } from '../weld/run/run-excursions.js';
import { readStored } from './damage.js';
import { excursionSum, rowAsWritten } from './row-sum.js';
import type { StoredRun } from './runs.js';
import type { Database } from './tables.js';

/** Excursions of a run that are stored together; only the last piece has fewer. */
export const excursionsInPiece = 64;

/** An excursion as the API answers it. */
export type StoredExcursion = RunExcursion & { readonly id: string };

/** The same excursion keeps its id when the run is computed again. */
export function identifiedExcursion(run: string, own: RunExcursion): StoredExcursion {
  return { id: `${run}.${own.quantity}.${own.arc ?? 0}.${Date.parse(own.fromTime).toString(36)}`, ...own };
}

export interface ExcursionPage {
  /** The newest first, as JSON. */
  readonly items: readonly string[];
  /** Where the next page begins, counted from the newest; null if there is none. */
  readonly next: number | null;
}

/** Every excursion of a run, the oldest first. */
export async function allExcursions(records: Kysely<Database>, run: StoredRun): Promise<StoredExcursion[]> {
  return (await storedPieces(records, run)).flatMap((list) => readPiece(run, list));
}

/** `limit` excursions of a run from the one `from` places behind the newest. */
export async function newestExcursions(records: Kysely<Database>, run: StoredRun, from: number, limit: number): Promise<ExcursionPage> {
  const pieces = (await storedPieces(records, run)).toReversed();
  const items: string[] = [];
  let passed = 0;
  for (const [at, list] of pieces.entries()) {
    // Skipped pieces need not be read, as all except the newest are complete.
    if (at > 0 && passed + excursionsInPiece <= from) {
      passed += excursionsInPiece;
      continue;
    }
    for (const own of readPiece(run, list).toReversed()) {
      passed += 1;
      if (passed <= from) continue;
      if (items.length === limit) return { items, next: from + limit };
      items.push(JSON.stringify(own));
    }
  }
  return { items, next: null };
}

/** JSON of lists. A run written by an earlier version has them among its marks. */
async function storedPieces(records: Kysely<Database>, run: StoredRun): Promise<string[]> {
  const rows = await records.selectFrom('excursion_pieces').selectAll().where('run_id', '=', run.id).orderBy('piece').execute();
  if (rows.length > 0) return rows.map((row) => rowAsWritten(`the excursions of run ${run.id}`, row, excursionSum).list);
  const { excursions = [] } = readStored(`what is kept of run ${run.id}`, run.marks, (marks) => marks as { excursions?: StoredExcursion[] });
  const lists: string[] = [];
  // From the front, so that the newest piece is the incomplete one.
  for (let at = 0; at < excursions.length; at += excursionsInPiece) lists.push(JSON.stringify(excursions.slice(at, at + excursionsInPiece)));
  return lists;
}

function readPiece(run: StoredRun, list: string): StoredExcursion[] {
  return readStored(`the excursions of run ${run.id}`, list, (own) => own as StoredExcursion[]);
}
