import type { ByteSink, ByteSource } from './byte-sink.js';
import { bareColumn } from './column-room.js';

/*
 * Integers are written as byte planes: first the lowest byte of every number, then the next, with as many planes as the largest number needs. Similar
 * bytes side by side compress better than whole integers, and no plane is written for bytes that are all 0. The sign goes into the lowest bit (0, −1,
 * 1, −2, 2 … become 0, 1, 2, 3, 4 …), so that small numbers of either sign need few bytes.
 */

export function folded(value: number): number {
  return value < 0 ? -2 * value - 1 : 2 * value;
}

/** For small numbers only. */
export function unfolded(code: number): number {
  return (code >>> 1) ^ -(code & 1);
}

/** Writes whole numbers between −2⁵² and 2⁵². */
export function writePlanes(sink: ByteSink, values: Float64Array): void {
  const codes = bareColumn(values.length);
  let largest = 0;
  for (let i = 0; i < values.length; i += 1) {
    const code = folded(values[i] ?? 0);
    codes[i] = code;
    if (code > largest) largest = code;
  }
  let planes = 0;
  for (let rest = largest; rest >= 1; rest = Math.floor(rest / 256)) planes += 1;
  sink.byte(planes);
  for (let plane = 0; plane < planes; plane += 1) {
    const room = sink.room(codes.length);
    if (planes <= 3) for (let i = 0; i < codes.length; i += 1) room[i] = ((codes[i] ?? 0) >>> (8 * plane)) & 255;
    else for (let i = 0; i < codes.length; i += 1) room[i] = Math.floor((codes[i] ?? 0) / 256 ** plane) % 256;
  }
}

/** Writes codes (see `folded`) of one byte each, and no plane if all of them are 0. */
export function writePlane(sink: ByteSink, codes: Uint8Array): void {
  const some = codes.some((code) => code !== 0);
  sink.byte(Number(some));
  if (some) sink.room(codes.length).set(codes);
}

/** Reads the numbers; null if all of them are 0. */
export function readPlanes(source: ByteSource, count: number): Float64Array | null {
  const planes = source.byte();
  if (planes === 0) return null;
  const values = bareColumn(count);
  const low = source.take(count);
  if (planes === 1) {
    for (let i = 0; i < count; i += 1) values[i] = unfolded(low[i] ?? 0);
    return values;
  }
  const middle = source.take(count);
  if (planes === 2) {
    for (let i = 0; i < count; i += 1) values[i] = unfolded((low[i] ?? 0) | ((middle[i] ?? 0) << 8));
    return values;
  }
  const high = source.take(count);
  if (planes === 3) {
    for (let i = 0; i < count; i += 1) values[i] = unfolded((low[i] ?? 0) | ((middle[i] ?? 0) << 8) | ((high[i] ?? 0) << 16));
    return values;
  }
  for (let i = 0; i < count; i += 1) values[i] = (low[i] ?? 0) + (middle[i] ?? 0) * 256 + (high[i] ?? 0) * 65_536;
  for (let plane = 3; plane < planes; plane += 1) {
    const unit = 256 ** plane;
    const bytes = source.take(count);
    for (let i = 0; i < count; i += 1) values[i] = (values[i] ?? 0) + (bytes[i] ?? 0) * unit;
  }
  for (let i = 0; i < count; i += 1) {
    const code = values[i] ?? 0;
    values[i] = code % 2 === 1 ? -(code + 1) / 2 : code / 2;
  }
  return values;
}

/** Skips what `readPlanes` would read. */
export function passPlanes(source: ByteSource, count: number): void {
  source.take(source.byte() * count);
}

/** Reads the codes (see `unfolded`) of numbers that fit in one byte each; null if all of them are 0. */
export function readPlane(source: ByteSource, count: number): Uint8Array | null {
  const planes = source.byte();
  if (planes > 1) throw new Error(`packed rows are damaged: ${planes} planes where there can be one`);
  return planes === 0 ? null : source.take(count);
}
