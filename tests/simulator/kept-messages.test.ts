import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createKeptMessages, mostKept, mostKeptBytes, readStoredMark } from '../../services/simulator/kept-messages.js';
import type { KeptMessages } from '../../services/simulator/kept-messages.js';
import type { SimulatedMessage } from '../../services/simulator/simulated-carriage.js';

const message = (seq: number | null, payload = '{}'): SimulatedMessage => ({ at: 0, topic: 't', payload, retain: seq === null, seq });

function sendAll(kept: KeptMessages, now = 0): (number | null)[] {
  const sent: (number | null)[] = [];
  for (let next = kept.nextToSend(); next !== undefined; next = kept.nextToSend()) {
    next.state = 'sent';
    sent.push(next.message.seq);
    kept.acknowledged(next, now);
  }
  return sent;
}

test('messages that the mark has not passed are sent again after a lost connection, in order', () => {
  const kept = createKeptMessages();
  for (let seq = 0; seq < 10; seq += 1) kept.add(message(seq));
  expect(sendAll(kept)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  kept.stored({ first: 0, seq: 6, missing: [] }, 100);
  expect(kept.size).toBe(3);
  kept.connectionLost();
  expect(sendAll(kept)).toEqual([7, 8, 9]);
});

test('the mark says nothing of seqs below its first', () => {
  const kept = createKeptMessages();
  for (let seq = 0; seq < 5; seq += 1) kept.add(message(seq));
  sendAll(kept);
  kept.stored({ first: 3, seq: 4, missing: [] }, 100);
  kept.connectionLost();
  expect(sendAll(kept)).toEqual([0, 1, 2]);
});

test('an acknowledged seq that stays missing is sent once more, and given up after 60 s', () => {
  const kept = createKeptMessages();
  for (let seq = 0; seq < 6; seq += 1) kept.add(message(seq));
  sendAll(kept, 1000);
  const mark = { first: 0, seq: 1, missing: [[2, 2]] as const };
  kept.stored(mark, 3000);
  expect(sendAll(kept, 3000)).toEqual([]);
  kept.stored(mark, 12_000);
  expect(sendAll(kept, 12_000)).toEqual([2]);
  kept.stored(mark, 30_000);
  expect(sendAll(kept, 30_000)).toEqual([]);
  const before = kept.size;
  kept.stored(mark, 62_000);
  expect(kept.size).toBe(before - 1);
});

test('an assignment is kept until it is acknowledged', () => {
  const kept = createKeptMessages();
  kept.add(message(null));
  kept.add(message(0));
  kept.stored({ first: 0, seq: 9, missing: [] }, 0);
  expect(kept.size).toBe(1);
  expect(sendAll(kept)).toEqual([null]);
  expect(kept.size).toBe(0);
});

test('memory is bounded in messages and in bytes, and what nobody acknowledged is never dropped', () => {
  const many = createKeptMessages();
  for (let seq = 0; many.hasRoom(); seq += 1) many.add(message(seq));
  expect(many.size).toBe(mostKept);
  expect(sendAll(many)).toHaveLength(mostKept);
  // A plain broker publishes no mark: there the acknowledged ones make room.
  expect(many.hasRoom()).toBe(true);

  const large = createKeptMessages();
  const payload = 'x'.repeat(100_000);
  for (let seq = 0; large.hasRoom(); seq += 1) large.add(message(seq, payload));
  expect(large.size).toBe(Math.ceil(mostKeptBytes / 100_000));
  large.stored({ first: 0, seq: 0, missing: [] }, 0);
  sendAll(large);
  large.stored({ first: 0, seq: 2, missing: [] }, 0);
  expect(large.size).toBe(Math.ceil(mostKeptBytes / 100_000) - 3);

  const watched = createKeptMessages();
  for (let seq = 0; watched.hasRoom(); seq += 1) watched.add(message(seq));
  watched.stored({ first: 5000, seq: 5000, missing: [] }, 0);
  sendAll(watched);
  // Where marks are published, acknowledged is not yet stored.
  expect(watched.hasRoom()).toBe(false);
});

test('whatever marks arrive, everything that they do not cover is still kept', () => {
  const marks = fc.array(fc.record({ seq: fc.nat({ max: 60 }), hole: fc.option(fc.integer({ min: 1, max: 8 })) }), { maxLength: 8 });
  fc.assert(
    fc.property(marks, (list) => {
      const kept = createKeptMessages();
      for (let seq = 0; seq <= 60; seq += 1) kept.add(message(seq));
      sendAll(kept);
      const stored = new Set<number>();
      for (const { seq, hole } of list) {
        const missing: [number, number][] = hole === null ? [] : [[seq + 1, seq + hole]];
        kept.stored({ first: 0, seq, missing }, 5000);
        for (let safe = 0; safe <= seq; safe += 1) stored.add(safe);
      }
      kept.connectionLost();
      const again = new Set(sendAll(kept));
      for (let seq = 0; seq <= 60; seq += 1) expect(again.has(seq)).toBe(!stored.has(seq));
    }),
  );
});

test('a stored payload gives the mark of its own boot, and nothing that cannot be read does any harm', () => {
  const payload = JSON.stringify({ boots: [{ boot: 'other', first: 0, seq: 9, missing: [] }, { boot: 'b', first: 2, seq: 7, missing: [[9, 11]] }] });
  expect(readStoredMark(payload, 'b')).toEqual({ first: 2, seq: 7, missing: [[9, 11]] });
  for (const wrong of ['', '{', 'null', '[]', '{"boots":1}', '{"boots":[null]}', '{"boots":[{"boot":"b","seq":"7"}]}']) {
    expect(readStoredMark(wrong, 'b')).toBeNull();
  }
});
