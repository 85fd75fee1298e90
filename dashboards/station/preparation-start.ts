import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { PreparationChange } from '../../shared/weld/enter-preparation.js';
import { extensionRatio, missingOf } from '../../shared/weld/preparation.js';
import type { AskedEntry, EntryLimit } from '../../shared/weld/preparation.js';
import type { NumberEntry } from '../shared/preparation-sentence.js';

/** Lots offered of each kind, the newest first. */
const lotsOffered = 3;
/** Wire diameters on the market, mm; common practice, no source. */
const usualDiameters = [1.6, 2, 2.4, 3.2, 4, 5, 6];
/** Where nothing else says: °C, h, mm, °C; common practice, no source. */
const usualStart: Readonly<Record<Exclude<NumberEntry, 'wireDiameter'>, number>> = { fluxTemperature: 300, fluxHours: 2, electrodeExtension: 32, preheatMeasured: 20 };

/** What one press on an entry makes of it. */
export function changeOf({ entry, arc }: Pick<AskedEntry, 'entry' | 'arc'>, value: boolean | number | string | null): PreparationChange {
  switch (entry) {
    case 'fluxDried':
      return { flux: { dried: value === null ? null : value === true } };
    case 'fluxTemperature':
      return { flux: { temperature: numberOf(value) } };
    case 'fluxHours':
      return { flux: { hours: numberOf(value) } };
    case 'fluxLot':
      return { fluxLot: value === null ? null : String(value) };
    case 'wireLot':
      return { arcs: [{ arc: arc ?? 1, wireLot: value === null ? null : String(value) }] };
    case 'electrodeExtension':
    case 'wireDiameter':
      return { arcs: [{ arc: arc ?? 1, [entry]: numberOf(value) }] };
    case 'preheatMeasured':
      return { preheatMeasured: numberOf(value) };
    default:
      return { [entry]: value === null ? null : value === true };
  }
}

function numberOf(value: boolean | number | string | null): number | null {
  return typeof value === 'number' ? value : null;
}

/** What an assignment holds of an entry, or null. */
export function heldBy(assignment: AssignmentAnswer | undefined, { entry, arc }: Pick<AskedEntry, 'entry' | 'arc'>): boolean | number | string | null {
  const own = assignment?.preparation;
  const wire = assignment?.arcs?.find((other) => other.arc === arc);
  switch (entry) {
    case 'fluxDried':
      return own?.flux?.dried ?? null;
    case 'fluxTemperature':
      return own?.flux?.temperature ?? null;
    case 'fluxHours':
      return own?.flux?.hours ?? null;
    case 'fluxLot':
      return assignment?.fluxLot ?? null;
    case 'wireLot':
    case 'electrodeExtension':
    case 'wireDiameter':
      return wire?.[entry] ?? null;
    default:
      return own?.[entry] ?? null;
  }
}

/** The number that a stepper begins with: the middle of the procedure's window, 8 times the wire diameter, last time's, or a usual one. */
export function startOf({ entry, limits }: AskedEntry, last: boolean | number | string | null, declaredPreheat: number | undefined): number {
  if (entry === 'wireDiameter') return middle(limits[0]) ?? 4;
  const named = middle(limits.find(({ against }) => against === 'procedure'));
  if (entry === 'preheatMeasured') return declaredPreheat ?? named ?? usualStart.preheatMeasured;
  const trade = limits.find(({ against }) => against === 'trade');
  const usual = trade?.max === undefined ? null : (trade.max / extensionRatio.max) * extensionRatio.start;
  const start = entry in usualStart ? usualStart[entry as keyof typeof usualStart] : 0;
  return Number((named ?? usual ?? numberOf(last) ?? start).toPrecision(12));
}

function middle(limit: EntryLimit | undefined): number | null {
  const { min, max } = limit ?? {};
  if (min !== undefined && max !== undefined) return Number(((min + max) / 2).toPrecision(12));
  return min ?? max ?? null;
}

/** Lots to choose from: the one that is entered, then those of earlier assignments, the newest first. */
export function lotsFor(asked: AskedEntry, earlier: readonly AssignmentAnswer[]): string[] {
  const lots = [asked.value, ...earlier.map((own) => heldBy(own, asked))].filter((lot) => typeof lot === 'string');
  return [...new Set(lots)].slice(0, lotsOffered);
}

/** Diameters to choose from, in order: the procedure's with its neighbours, and what is entered. */
export function diametersFor(asked: AskedEntry): number[] {
  const named = middle(asked.limits[0]) ?? 4;
  const below = usualDiameters.filter((own) => own < named - 0.1).slice(-1);
  const above = usualDiameters.filter((own) => own > named + 0.1).slice(0, 1);
  const entered = typeof asked.value === 'number' ? [asked.value] : [];
  return [...new Set([...below, named, ...above, ...entered])].sort((a, b) => a - b);
}

/**
 * Everything that is not entered yet, as an earlier assignment has it, in one change; null where that has nothing of it. The
 * preheat is left out: a temperature that was measured then says nothing of the plate now.
 */
export function asLastTime(asked: readonly AskedEntry[], last: AssignmentAnswer): PreparationChange | null {
  return asked
    .filter((own) => own.entry !== 'preheatMeasured' && own.value === null && missingOf(own).length > 0)
    .flatMap((own) => {
      const value = heldBy(last, own);
      return value === null || value === false ? [] : [changeOf(own, value)];
    })
    .reduce<PreparationChange | null>((all, own) => (all === null ? own : joined(all, own)), null);
}

function joined(first: PreparationChange, then: PreparationChange): PreparationChange {
  const arcs = [...(first.arcs ?? [])];
  for (const own of then.arcs ?? []) {
    const at = arcs.findIndex(({ arc }) => arc === own.arc);
    if (at < 0) arcs.push(own);
    else arcs[at] = { ...arcs[at], ...own };
  }
  return { ...first, ...then, ...(arcs.length === 0 ? {} : { arcs }), ...(first.flux == null && then.flux == null ? {} : { flux: { ...first.flux, ...then.flux } }) };
}
