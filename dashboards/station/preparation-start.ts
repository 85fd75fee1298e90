import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { PreparationChange } from '../../shared/weld/preparation/enter-preparation.js';
import { extensionRatio } from '../../shared/weld/procedure/extension-ratio.js';
import type { AskedEntry, EntryLimit, PreparationEntry } from '../../shared/weld/preparation/preparation.js';
import type { NumberEntry } from '../shared/preparation-sentence.js';

/** Lots offered of each kind, the newest first. */
const lotsOffered = 3;
/** Wire diameters on the market, mm; common practice, no source. */
const usualDiameters = [1.6, 2, 2.4, 3.2, 4, 5, 6];
/** Starting values if nothing else is known: °C, h, mm, °C; common practice, no source. */
const usualStart: Readonly<Record<Exclude<NumberEntry, 'wireDiameter'>, number>> = { fluxTemperature: 300, fluxHours: 2, electrodeExtension: 32, preheatMeasured: 20 };

/** The change that one press on an entry makes. */
export function entryChange({ entry, arc }: Pick<AskedEntry, 'entry' | 'arc'>, value: boolean | number | string | null): PreparationChange {
  switch (entry) {
    case 'fluxDried': return { flux: { dried: value === null ? null : value === true } };
    case 'fluxTemperature': return { flux: { temperature: numberOf(value) } };
    case 'fluxHours': return { flux: { hours: numberOf(value) } };
    case 'fluxLot': return { fluxLot: value === null ? null : String(value) };
    case 'wireLot': return { arcs: [{ arc: arc ?? 1, wireLot: value === null ? null : String(value) }] };
    case 'electrodeExtension':
    case 'wireDiameter': return { arcs: [{ arc: arc ?? 1, [entry]: numberOf(value) }] };
    case 'preheatMeasured': return { preheatMeasured: numberOf(value) };
    default: return { [entry]: value === null ? null : value === true };
  }
}

function numberOf(value: boolean | number | string | null): number | null {
  return typeof value === 'number' ? value : null;
}

/** What an assignment holds of an entry, or null. */
export function entryIn(assignment: AssignmentAnswer | undefined, { entry, arc }: Pick<AskedEntry, 'entry' | 'arc'>): boolean | number | string | null {
  const own = assignment?.preparation;
  const wire = assignment?.arcs?.find((other) => other.arc === arc);
  switch (entry) {
    case 'fluxDried': return own?.flux?.dried ?? null;
    case 'fluxTemperature': return own?.flux?.temperature ?? null;
    case 'fluxHours': return own?.flux?.hours ?? null;
    case 'fluxLot': return assignment?.fluxLot ?? null;
    case 'wireLot':
    case 'electrodeExtension':
    case 'wireDiameter': return wire?.[entry] ?? null;
    default: return own?.[entry] ?? null;
  }
}

/** The number that a stepper begins with: the middle of the procedure's window, 8 times the wire diameter, the last value, or a usual one. */
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

/** Lots to choose from: the current one, then those of earlier assignments, the newest first. */
export function lotsFor(asked: AskedEntry, earlier: readonly AssignmentAnswer[]): string[] {
  const lots = [asked.value, ...earlier.map((own) => entryIn(own, asked))].filter((lot) => typeof lot === 'string');
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

/** What is carried over from an earlier job: materials and settings. Checks and temperatures are entered each time. */
const carriedOver: readonly PreparationEntry[] = ['fluxLot', 'wireLot', 'electrodeExtension', 'wireDiameter'];

/**
 * The job, with the materials and settings of an earlier one where its own are missing; null if the earlier one adds nothing. They count as declared, not as confirmed:
 * nobody has looked at the spool.
 */
export function withMaterialsOf(assignment: AssignmentAnswer, asked: readonly AskedEntry[], last: AssignmentAnswer): AssignmentAnswer | null {
  const missing = asked.filter((own) => carriedOver.includes(own.entry) && own.value === null && entryIn(last, own) !== null);
  if (missing.length === 0) return null;
  const next = { ...assignment, arcs: (assignment.arcs ?? []).map((own) => ({ ...own })) };
  for (const own of missing) {
    const value = entryIn(last, own);
    if (own.entry === 'fluxLot') next.fluxLot = String(value);
    else {
      const arc = next.arcs.find((other) => other.arc === own.arc) ?? { arc: own.arc ?? 1 };
      if (!next.arcs.includes(arc)) next.arcs.push(arc);
      Object.assign(arc, { [own.entry]: value });
    }
  }
  delete next.preparation;
  delete next.materials;
  delete next.time;
  next.arcs.sort((a, b) => a.arc - b.arc);
  return next;
}
