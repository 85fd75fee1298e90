import fc from 'fast-check';
import { expect, test } from 'vitest';
import { pageOf, readCursor, writeCursor } from '../../shared/records/page.js';

test('a cursor returns its key, fits into a URL as it is, and works for its own list only', () => {
  fc.assert(
    fc.property(fc.string(), fc.maxSafeInteger(), fc.string({ unit: 'grapheme' }), (list, at, id) => {
      const key = { at: at + 0, id: id };
      const cursor = writeCursor(list, key);
      expect(encodeURIComponent(cursor)).toBe(cursor);
      expect(readCursor(list, cursor)).toEqual(key);
      expect(readCursor(`${list}.`, cursor)).toBeUndefined();
    }),
  );
});

test('no other text is a cursor', () => {
  const good = writeCursor('runs', { at: 5, id: 'r' });
  const forged = (value: unknown): string => Buffer.from(JSON.stringify(value)).toString('base64url');
  for (const text of ['', '!', `${good}=`, `${good} `, good.slice(0, -2), forged(['runs', 1.5, 'r']), forged(['runs', '5', 'r']), forged(['runs', 5, 5]), forged(['runs', 5, 'r', 1]), forged({}), forged(null)]) {
    expect(readCursor('runs', text), text).toBeUndefined();
  }
  fc.assert(
    fc.property(fc.string({ maxLength: 60 }), (text) => {
      expect(readCursor('runs', text)).toBeUndefined();
    }),
  );
});

test('a page ends with a key only where there is more', () => {
  const keyOf = (id: number): { at: number; id: string } => ({ at: id, id: '' });
  expect(pageOf([3, 2, 1], 2, keyOf)).toEqual({ rows: [3, 2], next: { at: 2, id: '' } });
  expect(pageOf([3, 2], 2, keyOf)).toEqual({ rows: [3, 2], next: null });
  expect(pageOf([], 2, keyOf)).toEqual({ rows: [], next: null });
});
