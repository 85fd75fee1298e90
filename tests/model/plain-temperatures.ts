import { valueAt, type ReceivedItem } from '../../shared/weld/items/item.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { Measurement } from '../../shared/weld/temperatures/measurement.js';
import type { PlainMissing, PlainPreparationGroup } from './plain-preparation.js';
import type { PlainRun } from './plain-types.js';

/** µs that a measured temperature counts before the start, as the settings are without any. */
const age = 300_000_000;

interface Sighting {
  readonly at: number;
  readonly value: number;
}

/**
 * The temperature that counts for each run of a carriage, in their order, °C; null where nobody measured one in time. Taken ahead of the arc, and not withdrawn: the newest
 * of what was entered at the run, of the preheat of its preparation, and of what the carriage measured or was told since the run before it began.
 */
export function countingOf(runs: readonly (Pick<PlainRun, 'startedAt' | 'seam' | 'assignment'> & { readonly id: string })[], items: readonly ReceivedItem[], entered: readonly Measurement[], sensors: Sensors | null): (number | null)[] {
  const sampled = sensors?.plateTemperaturePlace === 'ahead' ? items.flatMap(samplesOf) : [];
  return runs.map(({ id, startedAt, seam, assignment }, place) => {
    const since = Math.max(startedAt - age, (runs[place - 1]?.startedAt ?? -Infinity) + 1);
    const { preheatMeasured, at } = assignment?.preparation ?? {};
    const told = preheatMeasured === undefined || at === undefined ? [] : [{ at, value: preheatMeasured }];
    const ahead = entered.filter((own) => own.place === 'ahead' && own.withdrawn === null);
    const fresh: Sighting[] = [...sampled, ...told, ...ahead.filter((own) => own.run === null && (own.seam === null || own.seam === seam))].filter((own) => own.at >= since);
    const own: Sighting[] = ahead.filter((other) => other.run === id && other.at >= startedAt - age);
    let newest: Sighting | null = null;
    // Of equal times the one entered last, so entered ones keep their order.
    const inOrder = [...fresh, ...own].sort((a, b) => entered.findIndex((other) => other === a) - entered.findIndex((other) => other === b));
    for (const one of inOrder) if (one.at <= startedAt && (newest === null || one.at >= newest.at)) newest = one;
    return newest?.value ?? null;
  });
}

/** The samples of an item, whose time the cases send without faults. */
function samplesOf({ time, count, interval, plateTemperature }: ReceivedItem): Sighting[] {
  if (plateTemperature === null || time === null) return [];
  return Array.from({ length: count }, (_, k) => ({ at: time + k * (interval ?? 0) * 1000, value: valueAt(plateTemperature, k) }));
}

export interface PlainCheck {
  readonly quantity: 'preheat' | 'interpassTemperature';
  readonly min: number | null;
  readonly max: number | null;
  readonly value: number | null;
  readonly verdict: 'inside' | 'outside' | 'notMeasured';
}

/** What counts against the limits of a run group: the interpass temperature from the second run on. */
export function plainChecks(group: PlainPreparationGroup | undefined, run: number, value: number | null): PlainCheck[] {
  const asked = [{ quantity: 'preheat', limits: group?.preheat }, { quantity: 'interpassTemperature', limits: run === 1 ? undefined : group?.interpassTemperature }] as const;
  return asked.flatMap(({ quantity, limits }) => {
    if (limits === undefined) return [];
    const { min = null, max = null } = limits;
    const isInside = value !== null && value >= (min ?? -Infinity) && value <= (max ?? Infinity);
    return [{ quantity, min, max, value, verdict: value === null ? 'notMeasured' : isInside ? 'inside' : 'outside' }];
  });
}

/** What that leaves open before the arc. */
export function missingTemperatures(checks: readonly PlainCheck[]): PlainMissing[] {
  return checks.filter(({ verdict }) => verdict !== 'inside').map(({ quantity, min, max, value }) => ({
    entry: quantity === 'preheat' ? 'preheatMeasured' : 'interpassMeasured', arc: null, reason: value === null ? 'notEntered' : 'outside', value, against: 'procedure', min, max,
  }));
}
