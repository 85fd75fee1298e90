import type { AssignedArc, ConfirmedEntry, MissableEntry, Preparation, PreparationEntry } from '../procedure/assignment.js';
import { clean, ratioLimits } from '../procedure/extension-ratio.js';
import type { Window } from '../procedure/run-windows.js';

export type { PreparationEntry } from '../procedure/assignment.js';

/** The part of an assignment that its preparation depends on. */
export interface PreparedAssignment {
  readonly arcs?: readonly AssignedArc[] | undefined;
  readonly fluxLot?: string | undefined;
  readonly preparation?: Omit<Preparation, 'at' | 'confirmed'> | undefined;
}

/** The part of a procedure's run group that the preparation depends on; lengths mm, temperatures °C. */
export interface PreparationGroup {
  readonly arcs?: readonly PreparationArc[] | undefined;
  readonly preheat?: Window | undefined;
}

export interface PreparationArc {
  readonly arc: number;
  readonly currentType?: string | undefined;
  readonly polarity?: string | undefined;
  readonly wireDiameter?: number | undefined;
  readonly electrodeExtension?: Window | undefined;
}

/** The limits that a number is compared with: the procedure's window, or those of common practice. */
export interface EntryLimit extends Window {
  readonly against: 'procedure' | 'trade';
}

/** One requested entry: mm, °C, h; `value` is null where it was not entered. */
export interface AskedEntry {
  readonly entry: PreparationEntry;
  /** Null where the entry concerns the carriage as a whole. */
  readonly arc: number | null;
  readonly value: boolean | number | string | null;
  readonly limits: readonly EntryLimit[];
}

/** One entry that is missing, was reported as not done, or lies outside its limits; it stops nobody. */
export interface MissingEntry {
  readonly entry: MissableEntry;
  readonly arc: number | null;
  readonly reason: 'notEntered' | 'notDone' | 'outside';
  /** The following fields are null unless a number lies outside; a temperature that was not measured has its limits. */
  readonly value: number | null;
  readonly against: EntryLimit['against'] | null;
  readonly min: number | null;
  readonly max: number | null;
}

/** °C at which flux is dried again: the least for fused, the range for bonded flux (ESAB filler metal handbook). A hint: no entry is judged by it. */
export const fluxDryingHint = { fusedFrom: 149, bondedFrom: 260, bondedTo: 538 } as const;

/** The largest difference between a wire and the procedure's nominal diameter, mm: 5/32 in passes for 4 mm; common practice, no source. */
const diameterTolerance = 0.05;

/**
 * Everything that is requested before an assignment is welded, in the order of the work. Without a run group only common practice counts. `burning`
 * lists arcs that are known to exist besides those of the assignment and the run group.
 */
export function askedPreparation(assignment: PreparedAssignment, group: PreparationGroup | undefined, burning: readonly number[] = []): AskedEntry[] {
  const { preparation: own = {}, fluxLot } = assignment;
  const arcs = arcsOf(assignment, group, burning).map((arc) => ({
    arc, given: assignment.arcs?.find((other) => other.arc === arc), named: group?.arcs?.find((other) => other.arc === arc),
  }));
  const once = (entry: PreparationEntry, value: AskedEntry['value'] | undefined, limits: readonly EntryLimit[] = []): AskedEntry => ({ entry, arc: null, value: value ?? null, limits });
  const flux = own.flux ?? {};
  return [
    once('surfaceCleaned', own.surfaceCleaned),
    once('fluxDried', flux.dried),
    ...(flux.dried === false ? [] : [once('fluxTemperature', flux.temperature), once('fluxHours', flux.hours)]),
    once('fluxLot', fluxLot),
    ...arcs.map(({ arc, given }) => ({ entry: 'wireLot' as const, arc, value: given?.wireLot ?? null, limits: [] })),
    // An alternating arc has no polarity that could be wrong.
    ...(arcs.every(({ named }) => named?.currentType === 'AC') ? [] : [once('polarityChecked', own.polarityChecked)]),
    ...arcs.map(({ arc, given, named }) => ({ entry: 'electrodeExtension' as const, arc, value: given?.electrodeExtension ?? null, limits: extensionLimits(given, named) })),
    ...arcs.flatMap(({ arc, given, named }) => {
      const nominal = named?.wireDiameter;
      if (nominal === undefined) return [];
      const limit = { against: 'procedure' as const, min: clean(nominal - diameterTolerance), max: clean(nominal + diameterTolerance) };
      return [{ entry: 'wireDiameter' as const, arc, value: given?.wireDiameter ?? null, limits: [limit] }];
    }),
    once('trackParallel', own.trackParallel),
    ...(group?.preheat === undefined ? [] : [once('preheatMeasured', own.preheatMeasured, [{ against: 'procedure', ...group.preheat }])]),
  ];
}

/** What is missing of an entry: it was not made, was reported as not done, or lies outside; once for each limit that is not kept. */
export function missingOf({ entry, arc, value, limits }: AskedEntry): MissingEntry[] {
  const bare = { entry, arc, value: null, against: null, min: null, max: null };
  if (value === null) return [{ ...bare, reason: 'notEntered' }];
  if (value === false) return [{ ...bare, reason: 'notDone' }];
  if (typeof value !== 'number') return [];
  return limits.filter(({ min = -Infinity, max = Infinity }) => value < min || value > max)
    .map(({ against, min = null, max = null }) => ({ entry, arc, reason: 'outside', value, against, min, max }));
}

function arcsOf(assignment: PreparedAssignment, group: PreparationGroup | undefined, burning: readonly number[]): number[] {
  const named = [...(group?.arcs ?? []), ...(assignment.arcs ?? [])].map(({ arc }) => arc);
  const all = [...new Set([...named, ...burning])].sort((a, b) => a - b);
  // A carriage has at least one arc.
  return all.length === 0 ? [1] : all;
}

function extensionLimits(given: AssignedArc | undefined, named: PreparationArc | undefined): EntryLimit[] {
  const limits: EntryLimit[] = [];
  if (named?.electrodeExtension !== undefined) limits.push({ against: 'procedure', ...named.electrodeExtension });
  const diameter = given?.wireDiameter ?? named?.wireDiameter;
  if (diameter !== undefined) limits.push({ against: 'trade', ...ratioLimits(diameter) });
  return limits;
}

/** The requested entries that somebody at the carriage confirmed with their present values, with who did so and when. */
export function confirmedEntries<At>(asked: readonly AskedEntry[], confirmed: readonly ConfirmedEntry<At>[] | undefined): ConfirmedEntry<At>[] {
  return asked.flatMap((own) => {
    const said = confirmed?.find(({ entry, arc }) => entry === own.entry && arc === own.arc);
    return said?.value === own.value ? [said] : [];
  });
}
