import type { AssignedArc, ConfirmedEntry, FluxDrying, Preparation, PreparationEntry } from '../procedure/assignment.js';

type Entered<T> = { readonly [Key in keyof T]?: T[Key] | null | undefined };

/** The entries of one person: a field left out stays as it is, null removes it. Units as in the assignment. */
export interface PreparationChange extends Entered<Omit<Preparation, 'flux' | 'by' | 'at' | 'confirmed'>> {
  readonly flux?: Entered<FluxDrying> | null | undefined;
  readonly fluxLot?: string | null | undefined;
  readonly arcs?: readonly (Entered<Omit<AssignedArc, 'arc'>> & Pick<AssignedArc, 'arc'>)[] | null | undefined;
}

/** The part of an assignment that entries change; `at` is in whatever form the given assignment has times. */
interface Enterable<At> {
  readonly fluxLot?: string | undefined;
  readonly arcs?: readonly AssignedArc[] | undefined;
  readonly preparation?: (Omit<Preparation, 'at' | 'confirmed'> & { readonly at?: At | undefined; readonly confirmed?: readonly ConfirmedEntry<At>[] | undefined }) | undefined;
}

/** The assignment with the entries in it, and with who made them and when. */
export function enterPreparation<At, T extends Enterable<At>>(assignment: T, change: PreparationChange, by: string, at: At): T {
  const { fluxLot, arcs, flux, ...entries } = change;
  const before = assignment.preparation ?? {};
  const confirmed = confirmedAfter(before.confirmed ?? [], saidEntries(change), by, at);
  const preparation = { ...merged({ ...before }, entries), ...fluxAfter(before.flux, flux), by, at, confirmed };
  return {
    ...merged({ ...assignment }, { fluxLot }),
    ...(arcs === undefined || arcs === null ? {} : { arcs: arcsAfter(assignment.arcs ?? [], arcs) }),
    preparation,
  };
}

function fluxAfter(before: FluxDrying | undefined, change: PreparationChange['flux']): { flux?: FluxDrying | undefined } {
  if (change === undefined) return before === undefined ? {} : { flux: before };
  return { flux: change === null ? undefined : merged({ ...before }, change) };
}

function arcsAfter(before: readonly AssignedArc[], change: NonNullable<PreparationChange['arcs']>): AssignedArc[] {
  const arcs = before.map((own) => {
    const entered = change.find((other) => other.arc === own.arc);
    return entered === undefined ? own : merged({ ...own }, entered);
  });
  const added = change.filter(({ arc }) => !before.some((own) => own.arc === arc)).map((entered) => merged<AssignedArc>({ arc: entered.arc }, entered));
  return [...arcs, ...added].sort((a, b) => a.arc - b.arc);
}

/** Merges a change, in place: undefined leaves a field, null removes it. */
function merged<T extends object>(fields: T, change: object): T {
  for (const [name, value] of Object.entries(change)) {
    if (value === null) Reflect.deleteProperty(fields, name);
    else if (value !== undefined) Reflect.set(fields, name, value);
  }
  return fields;
}

interface Said {
  readonly entry: PreparationEntry;
  readonly arc: number | null;
  /** Null where it is removed. */
  readonly value: boolean | number | string | null;
}

/** The entries of a change, one by one. */
function saidEntries({ flux, fluxLot, arcs, surfaceCleaned, polarityChecked, trackParallel, preheatMeasured }: PreparationChange): Said[] {
  const said = (entry: PreparationEntry, value: Said['value'] | undefined, arc: number | null = null): Said[] => (value === undefined ? [] : [{ entry, arc, value }]);
  return [
    ...said('surfaceCleaned', surfaceCleaned),
    ...said('fluxDried', flux === null ? null : flux?.dried),
    ...said('fluxTemperature', flux === null ? null : flux?.temperature),
    ...said('fluxHours', flux === null ? null : flux?.hours),
    ...said('fluxLot', fluxLot),
    ...said('polarityChecked', polarityChecked),
    ...said('trackParallel', trackParallel),
    ...said('preheatMeasured', preheatMeasured),
    ...(arcs ?? []).flatMap((own) => [...said('wireLot', own.wireLot, own.arc), ...said('electrodeExtension', own.electrodeExtension, own.arc), ...said('wireDiameter', own.wireDiameter, own.arc)]),
  ];
}

function confirmedAfter<At>(before: readonly ConfirmedEntry<At>[], said: readonly Said[], by: string, at: At): ConfirmedEntry<At>[] {
  const others = before.filter((own) => !said.some(({ entry, arc }) => entry === own.entry && arc === own.arc));
  return [...others, ...said.flatMap(({ entry, arc, value }) => (value === null ? [] : [{ entry, arc, value, by, at }]))];
}
