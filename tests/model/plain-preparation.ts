import type { Assignment } from '../../shared/weld/procedure/assignment.js';

interface Limits {
  readonly min?: number | undefined;
  readonly max?: number | undefined;
}

/** The values of a run group with which the preparation is compared. */
export interface PlainPreparationGroup {
  readonly preheat?: Limits | undefined;
  readonly interpassTemperature?: Limits | undefined;
  readonly arcs?: readonly {
    readonly arc: number;
    readonly currentType?: string | undefined;
    readonly wireDiameter?: number | undefined;
    readonly electrodeExtension?: Limits | undefined;
  }[] | undefined;
}

export interface PlainMissing {
  readonly entry: string;
  readonly arc: number | null;
  readonly reason: string;
  readonly value: number | null;
  readonly against: string | null;
  readonly min: number | null;
  readonly max: number | null;
}

/** The entries that were missing before the arc was lit, from the rules alone. `burnt` are the arcs of the run. */
export function plainMissing(assignment: Assignment, group: PlainPreparationGroup | undefined, burnt: readonly number[]): PlainMissing[] {
  const found: PlainMissing[] = [];
  const put = (entry: string, arc: number | null, reason: string): void => {
    found.push({ entry, arc, reason, value: null, against: null, min: null, max: null });
  };
  const told = (entry: string, value: boolean | undefined): void => {
    if (value === undefined) put(entry, null, 'notEntered');
    else if (!value) put(entry, null, 'notDone');
  };
  const held = (entry: string, arc: number | null, value: number, against: string, { min, max }: Limits): void => {
    const below = min !== undefined && value < min;
    const above = max !== undefined && value > max;
    if (below || above) found.push({ entry, arc, reason: 'outside', value, against, min: min ?? null, max: max ?? null });
  };
  const given = assignment.preparation;
  const arcs: number[] = [];
  for (const arc of [1, 2, 3, 4, 5, 6]) {
    const named = group?.arcs?.some((own) => own.arc === arc) === true || assignment.arcs?.some((own) => own.arc === arc) === true;
    if (named || burnt.includes(arc)) arcs.push(arc);
  }
  if (arcs.length === 0) arcs.push(1);

  told('surfaceCleaned', given?.surfaceCleaned);
  told('fluxDried', given?.flux?.dried);
  if (given?.flux?.dried !== false) {
    if (given?.flux?.temperature === undefined) put('fluxTemperature', null, 'notEntered');
    if (given?.flux?.hours === undefined) put('fluxHours', null, 'notEntered');
  }
  if (assignment.fluxLot === undefined) put('fluxLot', null, 'notEntered');
  for (const arc of arcs) if (assignment.arcs?.find((own) => own.arc === arc)?.wireLot === undefined) put('wireLot', arc, 'notEntered');
  const alternating = arcs.filter((arc) => group?.arcs?.find((own) => own.arc === arc)?.currentType === 'AC');
  if (alternating.length < arcs.length) told('polarityChecked', given?.polarityChecked);
  for (const arc of arcs) {
    const own = assignment.arcs?.find((other) => other.arc === arc);
    const asked = group?.arcs?.find((other) => other.arc === arc);
    const extension = own?.electrodeExtension;
    if (extension === undefined) {
      put('electrodeExtension', arc, 'notEntered');
      continue;
    }
    if (asked?.electrodeExtension !== undefined) held('electrodeExtension', arc, extension, 'procedure', asked.electrodeExtension);
    const diameter = own?.wireDiameter ?? asked?.wireDiameter;
    // In nm, so that products are whole numbers.
    if (diameter !== undefined) held('electrodeExtension', arc, extension, 'trade', { min: (6 * Math.round(diameter * 1e6)) / 1e6, max: (10 * Math.round(diameter * 1e6)) / 1e6 });
  }
  for (const arc of arcs) {
    const asked = group?.arcs?.find((other) => other.arc === arc)?.wireDiameter;
    const diameter = assignment.arcs?.find((other) => other.arc === arc)?.wireDiameter;
    if (asked === undefined) continue;
    if (diameter === undefined) put('wireDiameter', arc, 'notEntered');
    else held('wireDiameter', arc, diameter, 'procedure', { min: (Math.round(asked * 1e6) - 50_000) / 1e6, max: (Math.round(asked * 1e6) + 50_000) / 1e6 });
  }
  told('trackParallel', given?.trackParallel);
  if (group?.preheat !== undefined) {
    if (given?.preheatMeasured === undefined) put('preheatMeasured', null, 'notEntered');
    else held('preheatMeasured', null, given.preheatMeasured, 'procedure', group.preheat);
  }
  return found;
}
