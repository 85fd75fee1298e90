import { brotliCompressSync, brotliDecompressSync, constants, crc32 } from 'node:zlib';
import { arcModel } from './arc-model.js';
import { arcParts } from './arc-parts.js';
import { byteSink, byteSource, type ByteSource } from './byte-sink.js';
import { readingPort, writingPort, type ColumnPort } from './column-port.js';
import { startColumns } from './column-room.js';
import { additions, columnsOfAddition, laterColumns } from './later-columns.js';
import { plainColumns } from './plain-rows.js';
import type { ArcColumns, RunColumns } from './row-columns.js';
import { runModel } from './run-model.js';
import { runParts } from './run-parts.js';
import { arcColumns, runColumns } from '../weld/rows/row.js';

/**
 * The first byte of every packed blob. A new way of packing gets a new number, and blobs of the earlier ways stay readable. Format 1 did not have
 * columns with few changes (column-format.ts); what it wrote is read as format 2 is. Since format 4 the CRC-32 of what is packed (ISO 3309, as in
 * zlib, 4 bytes, little-endian) follows the number; no single flipped bit turns a 4 into a format without a checksum. Each addition to the columns of an arc
 * (later-columns.ts) follows those before it and adds 8 to the number: if a flipped bit makes it that of another format, bytes are left over or
 * missing.
 */
const firstFormat = 4;
const perAddition = 8;
const arcFormat = firstFormat + perAddition * additions.length;
const withoutSum: readonly number[] = [1, 2];
const head = 5;
/** Measured in tests/bench/trace-size.ts: 5 and 6 pack no better, 9 takes 20 times as long. */
const quality = 4;

function pack(count: number, format: number, write: (port: ColumnPort) => unknown): Buffer {
  const sink = byteSink();
  for (let shift = 0; shift < 32; shift += 8) sink.byte((count >>> shift) & 255);
  write(writingPort(sink, count));
  const bytes = sink.bytes();
  const packed = brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: quality, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length } });
  const before = Buffer.alloc(head, format);
  before.writeUInt32LE(crc32(packed), 1);
  return Buffer.concat([before, packed]);
}

/** The decompressed contents of a blob, checked against its checksum; `newest` is the newest known format. */
function checked(blob: Uint8Array, newest: number): Uint8Array {
  const [format = 0] = blob;
  if (withoutSum.includes(format)) return blob.subarray(1);
  if (format < firstFormat || format > newest || (format - firstFormat) % perAddition !== 0) {
    const known = [...withoutSum, ...Array.from({ length: (newest - firstFormat) / perAddition + 1 }, (_, at) => firstFormat + perAddition * at)];
    throw new Error(`packed rows of format ${format} cannot be read, only formats ${known.join(', ')}`);
  }
  const packed = blob.subarray(head);
  if (blob.length < head || Buffer.from(blob.buffer, blob.byteOffset, head).readUInt32LE(1) !== crc32(packed)) throw new Error('packed rows are damaged: they are others than their checksum says');
  return packed;
}

function unpack<C>(blob: Uint8Array, newest: number, wanted: readonly (keyof C & string)[] | undefined, read: (port: ColumnPort) => C): { count: number; columns: C } {
  startColumns();
  const source: ByteSource = byteSource(brotliDecompressSync(checked(blob, newest)));
  let count = 0;
  for (let shift = 0; shift < 32; shift += 8) count |= source.byte() << shift;
  const columns = read(readingPort(source, count, wanted));
  if (!source.ended()) throw new Error('packed rows are damaged: bytes are left over behind the last column');
  return { count, columns };
}

/** Packs plain rows of one arc (plain-rows.ts) into one compressed blob, exact to the last bit. */
export function packPlainArcRows(body: Uint8Array): Buffer {
  startColumns();
  const { count, columns } = plainColumns(body, arcColumns);
  return pack(count, arcFormat, (port) => arcModel(port, laterColumns.length, { ...columns, ...arcParts(columns) }));
}

export function packPlainRunRows(body: Uint8Array): Buffer {
  startColumns();
  const { count, columns } = plainColumns(body, runColumns);
  return pack(count, firstFormat, (port) => runModel(port, { ...columns, ...runParts(columns) }));
}

/** The rows of a packed blob in columns, including at least the wanted ones; see column-room.ts for how long they are valid. */
export function unpackArcColumns(blob: Uint8Array, wanted?: readonly (keyof ArcColumns)[]): { count: number; columns: ArcColumns } {
  const later = (Math.max(0, (blob[0] ?? 0) - firstFormat) / perAddition) * columnsOfAddition;
  return unpack(blob, arcFormat, wanted, (port) => arcModel(port, later));
}

export function unpackRunColumns(blob: Uint8Array, wanted?: readonly (keyof RunColumns)[]): { count: number; columns: RunColumns } {
  return unpack(blob, firstFormat, wanted, (port) => runModel(port));
}
