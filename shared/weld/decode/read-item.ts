import { shapedItem, type Item, type SentValues, type Values } from '../items/item.js';
import { sentNames, type SentName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { missingValue, wrongValue } from './decoded.js';
import { readDeviceTime, timeTaken } from './device-time.js';
import { intervalLimit, longestBoot, mostArcs, mostSamples, quantityLimits, type QuantityLimit } from './item-limits.js';
import { isGiven, type Raw } from './field-rules.js';
import { isPrintable } from './printable.js';

/** The boot of a raw item if it is usable: 1 to 64 printable characters. */
export function usableBoot(value: unknown): string | null {
  return typeof value === 'string' && isPrintable(value, longestBoot) ? value : null;
}

/** The seq of a raw item if it is usable: an integer from 0 to 2^53 - 1. */
export function usableSeq(value: unknown): number | null {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value + 0 : null;
}

/**
 * Checks one reading or block against every limit; gives the item, or the reason why it is refused. A field that is null counts as absent. This is
 * written by hand, since a schema library costs ten times as much on a block.
 */
export function readItem(raw: Raw): Item | string {
  const boot = usableBoot(raw.boot);
  if (boot === null && isGiven(raw.boot)) return wrongValue('boot', raw.boot, `text of 1 to ${longestBoot} printable characters`);
  const seq = usableSeq(raw.seq);
  if (seq === null && isGiven(raw.seq)) return wrongValue('seq', raw.seq, 'an integer from 0 to 9007199254740991');
  const time = isGiven(raw.time) ? readDeviceTime(raw.time) : null;
  if (Number.isNaN(time)) return wrongValue('time', raw.time, timeTaken);
  const arc = raw.arc ?? 1;
  if (typeof arc !== 'number' || !Number.isInteger(arc) || arc < 1 || arc > mostArcs) {
    return wrongValue('arc', arc, `an integer from 1 to ${mostArcs}`);
  }
  const interval = raw.interval ?? null;
  if (interval !== null && !(typeof interval === 'number' && interval >= intervalLimit.low && interval <= intervalLimit.high)) {
    return wrongValue('interval', interval, intervalLimit.taken);
  }
  const block = interval !== null;
  const values = readAll(raw, block);
  if (typeof values === 'string') return values;
  const count = block ? countSamples(values) : 1;
  if (count === 0) return unequalLengths(values);
  return shapedItem({ boot, seq, time, arc, interval, count }, values);
}

const nothingSent: Record<SentName, Values | null> = recordOf(sentNames, () => null);
const requiredLimits = quantityLimits.filter(({ required }) => required);

/** Reads every quantity, or gives the reason why one is refused. */
function readAll(raw: Raw, block: boolean): SentValues | string {
  // A copy has its shape from the beginning, which saves a tenth of the decoding.
  const read = { ...nothingSent };
  for (const limit of quantityLimits) {
    const value = raw[limit.name];
    if (!isGiven(value)) continue;
    const values = readValues(limit, value, block);
    if (typeof values === 'string') return values;
    read[limit.name] = values;
  }
  for (const { name, taken } of requiredLimits) if (read[name] === null) return missingValue(name, taken);
  return read as SentValues;
}

function readValues(limit: QuantityLimit, value: unknown, block: boolean): Values | string {
  if (typeof value === 'number') return value >= limit.low && value <= limit.high ? value : wrongValue(limit.name, value, limit.taken);
  if (!Array.isArray(value)) return wrongValue(limit.name, value, block ? `${limit.taken}, or a list of them` : limit.taken);
  if (!block) return `${limit.name}: got a list without interval; expected: one number, or a list together with interval (ms)`;
  return readSamples(limit, value);
}

function readSamples(limit: QuantityLimit, samples: readonly unknown[]): readonly number[] | string {
  const { low, high } = limit;
  const count = samples.length;
  if (count === 0 || count > mostSamples) return `${limit.name}: got ${count} samples; expected: 1 to ${mostSamples}`;
  for (let index = 0; index < count; index += 1) {
    const sample = samples[index];
    if (!(typeof sample === 'number' && sample >= low && sample <= high)) return wrongValue(`${limit.name}[${index}]`, sample, limit.taken);
  }
  return samples as readonly number[];
}

/** Number of samples of a block: the common length of its lists, 1 where it has none, 0 where they differ. */
function countSamples(values: SentValues): number {
  let count = 0;
  for (const name of sentNames) {
    const list = values[name];
    if (typeof list === 'number' || list === null) continue;
    if (count !== 0 && list.length !== count) return 0;
    count = list.length;
  }
  return count === 0 ? 1 : count;
}

function unequalLengths(values: SentValues): string {
  const lengths = sentNames.flatMap((name) => {
    const list = values[name];
    return typeof list === 'number' || list === null ? [] : [`${name} ${list.length}`];
  });
  return `lists of different lengths: got ${lengths.join(', ')} samples; expected: lists of equal length, or one number for the whole block`;
}
