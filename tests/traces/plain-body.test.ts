import { crc32 } from 'node:zlib';
import { expect, it } from 'vitest';
import { plainBody, rowsInBody } from '../../shared/traces/plain-body.js';
import { arcRowCodec, runRowCodec } from '../../shared/traces/row-codec.js';
import { arcFormats, runFormats } from '../../shared/traces/row-columns.js';
import type { PlainFormat } from '../../shared/traces/row-columns.js';
import { sqliteTraceReader } from '../../shared/traces/sqlite-traces.js';
import { arcColumns, runColumns } from '../../shared/weld/rows/row.js';
import { madeRows } from '../api/made-run.js';
import { openTraceDatabase, sqliteTraceStore } from './trace-database.js';
import { arcNumbers, namedRows, plainArcRows, readArc } from '../named-rows.js';

const { arc, run } = madeRows(Date.UTC(2026, 10, 23, 8) * 1000);

/** Float64 values, little-endian, one after the other, as every program so far wrote rows. */
function bytesOf<Name extends string>(rows: readonly Readonly<Record<Name, number>>[], columns: readonly Name[]): Buffer {
  const bytes = Buffer.alloc(8 * rows.length * columns.length);
  rows.forEach((row, at) => { columns.forEach((name, place) => bytes.writeDoubleLE(row[name], 8 * (at * columns.length + place))); });
  return bytes;
}

function withSum(bytes: Uint8Array): Buffer {
  const sum = Buffer.alloc(4);
  sum.writeUInt32LE(crc32(bytes));
  return Buffer.concat([bytes, sum]);
}

/** A program that has five more columns, which came with format 2. */
const added = ['a', 'b', 'c', 'd', 'e'] as const;
const wider = [...arcColumns, ...added];
const widerFormats = [...arcFormats, { width: arcColumns.length + added.length, before: { a: 0, b: 0, c: 0, d: 0, e: Number.NaN } }];
/** What rows of format 1 give for the columns that came since. */
const since = <Name extends string>(formats: readonly PlainFormat<Name>[]): object => Object.assign({}, ...formats.map(({ before }) => before)) as object;
const lacked = { a: 0, b: 0, c: 0, d: 0, e: Number.NaN };

it.each([
  ['rows alone', (rows: Buffer) => rows],
  ['rows and their sum', withSum],
  ['a format, rows and the sum of both', (rows: Buffer) => withSum(Buffer.concat([Buffer.of(1), rows]))],
])('rows of format 1 are read to the last bit, stored as %s', (_, stored) => {
  const columns = arcColumns.slice(0, 26);
  const odd = arc.slice(0, 31).map((row, at) => ({ ...row, energy: at / 3, minFeed: -0 }));
  expect(namedRows([arcRowCodec.plainColumns(stored(bytesOf(odd, columns)))], arcColumns)).toEqual(odd.map((row) => ({ ...row, ...since(arcFormats) })));
  expect(namedRows([runRowCodec.plainColumns(stored(bytesOf(run.slice(0, 31), runColumns.slice(0, 15))))], runColumns)).toEqual(run.slice(0, 31).map((row) => ({ ...row, ...since(runFormats) })));
  // 26 × 31 numbers are as many as 31 × 26: by its length alone nobody can tell which they are.
  for (const count of [30, 31]) {
    const wide = rowsInBody<string>(stored(bytesOf(arc.slice(0, count), columns)), wider, widerFormats);
    expect(Buffer.from(wide).equals(bytesOf(arc.slice(0, count).map((row) => ({ ...row, ...since(arcFormats), ...lacked })), wider))).toBe(true);
  }
});

it('rows of an unknown format are refused by its number, wherever they occur', () => {
  const body = plainBody(bytesOf(arc.slice(0, 26).map((row) => ({ ...row, ...lacked })), wider), [...arcFormats, 'wider']);
  const told = `plain rows of format ${arcFormats.length + 1} cannot be read, only formats 1`;
  expect(() => arcRowCodec.opened(body)).toThrow(told);
  expect(() => arcRowCodec.plainColumns(body)).toThrow(told);
  const db = openTraceDatabase(':memory:');
  const store = sqliteTraceStore(db);
  store.appendArc('r1', 1, arcNumbers(arc.slice(0, 26)));
  db.prepare('UPDATE trace_recent SET body = ?').run(body);
  expect(() => readArc(sqliteTraceReader(db), 'r1', 1)).toThrow(told);
  expect(() => { store.close('r1'); }).toThrow(told);
  db.close();
});

it('rows of a known format are packed together with earlier ones', () => {
  const db = openTraceDatabase(':memory:');
  const store = sqliteTraceStore(db);
  store.appendArc('r1', 1, arcNumbers(arc.slice(0, 5)));
  db.prepare('UPDATE trace_recent SET body = ?').run(bytesOf(arc.slice(0, 5), arcColumns.slice(0, 26)));
  store.appendArc('r1', 1, arcNumbers(arc.slice(5, 9)));
  store.close('r1');
  expect(db.prepare('SELECT count(*) AS count FROM trace_recent').get()).toEqual({ count: 0 });
  expect(readArc(sqliteTraceReader(db), 'r1', 1)).toEqual([...arc.slice(0, 5).map((row) => ({ ...row, ...since(arcFormats) })), ...arc.slice(5, 9)]);
  db.close();
});

it('a stored body is refused when any bit of it is flipped', () => {
  const body = arcRowCodec.body(plainArcRows(arc.slice(0, 3)));
  for (let bit = 0; bit < 8 * body.length; bit += 1) {
    const damaged = Buffer.from(body);
    damaged.writeUInt8(damaged.readUInt8(bit >> 3) ^ (1 << (bit & 7)), bit >> 3);
    expect(() => arcRowCodec.opened(damaged), `bit ${bit}`).toThrow('damaged');
  }
  expect(() => arcRowCodec.opened(body.subarray(0, -1))).toThrow('damaged');
});

it.each([['an arc', arcColumns, arcFormats], ['a run', runColumns, runFormats]] as const)('the last format of the rows of %s has every column, and each that was added says what rows of before give', (_, columns, formats) => {
  expect(formats.at(-1)?.width).toBe(columns.length);
  for (const [at, { width, before }] of formats.entries()) expect(Object.keys(before)).toEqual(columns.slice(formats[at - 1]?.width ?? width, width));
});
