import type { Item } from '../../shared/weld/items/item.js';
import { sentNames } from '../../shared/weld/quantities.js';
import { recordOf } from '../../shared/weld/rows/record-of.js';

const encoder = new TextEncoder();

/**
 * The JSON payload of the kind `readings` that decodes to these very items, numbers to the last bit. Times are written as
 * Unix ms with up to three decimals: below 2107 a double still tells every microsecond apart.
 */
export function toPayload(message: readonly Item[]): Uint8Array {
  const raw = message.map((item) => ({
    ...(item.boot === null ? {} : { boot: item.boot }),
    ...(item.seq === null ? {} : { seq: item.seq }),
    ...(item.time === null ? {} : { time: item.time / 1000 }),
    ...(item.interval === null ? {} : { interval: item.interval }),
    arc: item.arc,
    ...recordOf(sentNames.filter((name) => item[name] !== null), (name) => item[name]),
  }));
  return encoder.encode(JSON.stringify(raw.length === 1 ? raw[0] : raw));
}
