import { expect, test } from 'vitest';
import { printablePattern, timePattern } from '../../shared/api-types/described-text.js';
import { freeText } from '../../shared/api-types/free-text.js';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { readDeviceTime } from '../../shared/weld/decode/device-time.js';

const time = new RegExp(timePattern);
const said = (text: string): boolean => !Number.isNaN(readDeviceTime(text));

test('the description of a time and what is accepted agree on every day from 1969 to 2107', () => {
  for (let year = 1968; year <= 2108; year += 1) {
    for (let month = 0; month <= 13; month += 1) {
      for (let day = 0; day <= 32; day += 1) {
        const text = `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}T12:00:00Z`;
        if (time.test(text) !== said(text)) expect(time.test(text), text).toBe(said(text));
      }
    }
  }
});

// The grammar of RFC 3339, section 5.6, and its notes on small letters and the space.
test.each(['2026-11-25T06:00:00Z', '2026-11-25t06:00:00z', '2026-11-25 06:00:00.123456789+05:30', '2026-11-25T23:59:59-23:59', '2096-02-29T00:00:00Z', '1970-01-01T00:00:00Z', '1970-01-01T00:00:00-05:00', '2106-12-31T23:59:59Z', '2106-12-31T00:00:00+05:30'])('%s is described and accepted', (text) => {
  expect([time.test(text), said(text)]).toEqual([true, true]);
});

test.each(['', '2026-11-25', '2026-11-25T06:00Z', '2026-11-25T24:00:00Z', '2026-11-25T06:60:00Z', '2026-11-25T06:00:00', '2026-11-25T06:00:00.Z', '2026-11-25T06:00:00+24:00', '2026-11-25T06:00:00+0530', '2100-02-29T00:00:00Z', '1926-11-25T06:00:00Z', '1970-01-01T00:00:00+00:01', '2106-12-31t22:14:56-21:29', ' 2026-11-25T06:00:00Z'])(
  '%j is neither',
  (text) => {
    expect([time.test(text), said(text)]).toEqual([false, false]);
  },
);

test('printable text is described by the classes of Unicode that are not', () => {
  const described = new RegExp(printablePattern(1, 1), 'u');
  const unprintable = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u;
  for (let point = 0; point <= 0x10ffff; point += 1) {
    if (point >= 0xd800 && point <= 0xdfff) continue;
    const text = String.fromCodePoint(point);
    if (described.test(text) === unprintable.test(text)) expect(described.test(text), point.toString(16)).toBe(!unprintable.test(text));
  }
  expect(['', 'ab'].some((text) => described.test(text))).toBe(false);
});

test('free text is accepted where SQLite gives it back as it was written', () => {
  const db = openSqlite(':memory:');
  db.exec('create table texts (text text not null)');
  const keep = db.prepare<[string]>('insert into texts values (?)');
  const read = db.prepare<[number | bigint], { text: string }>('select text from texts where rowid = ?');
  const schema = freeText(10);
  const described = new RegExp(String(schema.meta()?.pattern), 'u');
  const accepted = (text: string): boolean => schema.safeParse(text).success;
  for (let unit = 0; unit <= 0xffff; unit += 1) {
    const text = `a${String.fromCharCode(unit)}b`;
    const isKept = read.get(keep.run(text).lastInsertRowid)?.text === text;
    if (accepted(text) !== isKept) expect(accepted(text), unit.toString(16)).toBe(isKept);
    const isHalf = unit >= 0xd800 && unit <= 0xdfff;
    if (!isHalf && described.test(text) !== isKept) expect(described.test(text), unit.toString(16)).toBe(isKept);
  }
  db.close();
  expect(accepted('a\r\nb\t\u{1f600}')).toBe(true);
  expect(['', 'more than ten'].some(accepted)).toBe(false);
});
