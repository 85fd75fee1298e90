import { crc32 } from 'node:zlib';
import type { PlainFormat } from './row-columns.js';

/*
 * How plain rows (plain-rows.ts) are stored: the number of their format, 1 byte; then the rows; then the CRC-32 of both (ISO 3309, as in zlib), 4
 * bytes. A row consists of 8-byte numbers, so the length identifies what earlier versions wrote, all of it in format 1: rows followed by their
 * checksum alone, or rows alone. Later formats keep the first byte and the checksum, so that a program that does not know a format can name it.
 */

const headSize = 1;
const sumSize = 4;

/** Rows of the newest format as they are stored. */
export function plainBody(rows: Uint8Array, formats: readonly unknown[]): Buffer {
  const body = Buffer.allocUnsafe(headSize + rows.length + sumSize);
  body.writeUInt8(formats.length);
  body.set(rows, headSize);
  body.writeUInt32LE(crc32(body.subarray(0, -sumSize)), headSize + rows.length);
  return body;
}

/** The rows of a stored body with all columns, whatever its format. Throws if the checksum does not match or the format is not known. */
export function rowsInBody<Name extends string>(body: Uint8Array, columns: readonly Name[], formats: readonly PlainFormat<Name>[]): Uint8Array {
  const { format, rows } = opened(body);
  const known = formats[format - 1];
  if (known === undefined) throw new Error(`plain rows of format ${format} cannot be read, only formats ${formats.map((_, at) => at + 1).join(', ')}: a newer program wrote them`);
  if (rows.length % (8 * known.width) !== 0) throw new Error(`stored rows are damaged: ${rows.length} bytes are no whole number of rows of ${8 * known.width} bytes`);
  return known.width === columns.length ? rows : widened(rows, known.width, columns, formats);
}

function opened(body: Uint8Array): { readonly format: number; readonly rows: Uint8Array } {
  switch (body.length % 8) {
    case 0:
      return { format: 1, rows: body };
    case sumSize:
      return { format: 1, rows: withoutSum(body) };
    case headSize + sumSize: {
      const own = withoutSum(body);
      return { format: own[0] ?? 0, rows: own.subarray(headSize) };
    }
    default:
      throw new Error(`stored rows are damaged: ${body.length} bytes are no rows with a format and a checksum`);
  }
}

function withoutSum(body: Uint8Array): Uint8Array {
  const summed = body.subarray(0, -sumSize);
  if (Buffer.from(body.buffer, body.byteOffset, body.length).readUInt32LE(summed.length) !== crc32(summed)) throw new Error('stored rows are damaged: they are others than their checksum says');
  return summed;
}

/** Rows of an earlier format, each extended by the values for the columns that it lacks. */
function widened<Name extends string>(rows: Uint8Array, width: number, columns: readonly Name[], formats: readonly PlainFormat<Name>[]): Uint8Array {
  const lacking = Buffer.alloc(8 * (columns.length - width));
  for (const [at, name] of columns.slice(width).entries()) {
    lacking.writeDoubleLE(formats.find(({ before }) => before[name] !== undefined)?.before[name] ?? Number.NaN, 8 * at);
  }
  const count = rows.length / (8 * width);
  const wide = Buffer.alloc(8 * columns.length * count);
  for (let row = 0; row < count; row += 1) {
    const place = 8 * columns.length * row;
    wide.set(rows.subarray(8 * width * row, 8 * width * (row + 1)), place);
    wide.set(lacking, place + 8 * width);
  }
  return wide;
}
