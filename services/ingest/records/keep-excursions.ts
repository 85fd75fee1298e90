import { excursionsInPiece, identifiedExcursion } from '../../../shared/records/excursions.js';
import type { ChangeSet } from '../../../shared/records/change-set.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Excursion } from '../../../shared/weld/judging/excursion-track.js';
import { excursionAnswer } from '../../../shared/weld/run/run-excursions.js';
import type { RunParameters } from '../../../shared/weld/procedure/zone.js';
import type { RunEntry } from '../fold/run-book.js';

interface FoundExcursions {
  readonly excursions: readonly Excursion[];
  readonly parameters: RunParameters;
  readonly assignment: Assignment | null;
}

/** Queues the excursions of a stored run to be written, and only the pieces that changed. */
export function keepExcursions(entry: RunEntry, { excursions, parameters, assignment }: FoundExcursions, changes: ChangeSet): void {
  const before = entry.excursions?.assignment === assignment ? entry.excursions.pieces : null;
  const pieces: (readonly Excursion[])[] = [];
  for (let at = 0; at < excursions.length; at += excursionsInPiece) {
    const piece = pieces.length;
    const own = excursions.slice(at, at + excursionsInPiece);
    const known = before?.[piece];
    // An excursion is never changed, only replaced.
    const same = known?.length === own.length && own.every((excursion, place) => excursion === known[place]);
    pieces.push(same ? known : own);
    if (same) continue;
    const list = own.map((excursion) => identifiedExcursion(entry.id, excursionAnswer(excursion, parameters, assignment)));
    changes.excursions.push({ run: entry.id, piece, list: JSON.stringify(list) });
  }
  if (pieces.length < (before?.length ?? Infinity)) changes.excursions.push({ run: entry.id, from: pieces.length });
  entry.excursions = { assignment, pieces };
}
