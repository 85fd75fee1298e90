import { expect, test } from 'vitest';
import { commitBudget, costOf } from '../../services/ingest/writer/commit-budget.js';
import { messageQueue } from '../../services/ingest/writer/message-queue.js';
import type { MessageQueue, Waiting } from '../../services/ingest/writer/message-queue.js';

const waiting = (carriage: string, number: number, kind = 'readings'): Waiting => ({ message: { topic: `weld/hall/${carriage}/${kind}`, payload: Buffer.from(String(number)), retained: false, acknowledge: () => undefined }, at: number });
const told = ({ message, at }: Waiting): string => `${message.topic.split('/').slice(2).join(' ')} ${at}`;

function drain(queue: MessageQueue, most = Infinity): Waiting[] {
  const taken: Waiting[] = [];
  for (let next = queue.next(); next !== null; next = queue.next()) {
    taken.push(next);
    if (taken.length >= most) break;
  }
  return taken;
}

test('carriages take turns, and each keeps its order over the kinds of its messages', () => {
  const queue = messageQueue();
  for (let number = 0; number < 50; number += 1) queue.put(waiting('flood', number, number === 1 ? 'assignment' : 'readings'));
  queue.put(waiting('c1', 50));
  queue.put(waiting('c1', 51));
  queue.put(waiting('c2', 52));
  expect(drain(queue, 6).map(told)).toEqual(['flood readings 0', 'c1 readings 50', 'c2 readings 52', 'flood assignment 1', 'c1 readings 51', 'flood readings 2']);
  expect(queue.size()).toBe(47);
  expect(drain(queue).map(({ at }) => at)).toEqual(Array.from({ length: 47 }, (_, at) => at + 3));
  expect([queue.size(), queue.next()]).toEqual([0, null]);
});

test('carriages that lag behind are skipped until they have caught up, and lose nothing', () => {
  const queue = messageQueue();
  for (const [carriage, number] of [['flood', 1], ['flood', 2], ['c1', 3], ['c2', 4]] as const) queue.put(waiting(carriage, number));
  const behind = new Set(['weld/hall/flood']);
  expect([queue.next(behind), queue.next(behind), queue.next(behind)].map((own) => own?.at)).toEqual([3, 4, undefined]);
  expect([queue.size(), ...drain(queue).map(({ at }) => at)]).toEqual([2, 1, 2]);
});

test('returned messages come before those that waited behind them', () => {
  const queue = messageQueue();
  for (const [carriage, number] of [['a', 1], ['a', 2], ['a', 3], ['b', 4], ['b', 5]] as const) queue.put(waiting(carriage, number));
  const taken = drain(queue, 3);
  queue.putBack(taken);
  expect(queue.size()).toBe(5);
  const all = drain(queue);
  expect(all.filter(({ message }) => message.topic.includes('/a/')).map(({ at }) => at)).toEqual([1, 2, 3]);
  expect(all.filter(({ message }) => message.topic.includes('/b/')).map(({ at }) => at)).toEqual([4, 5]);
});

test('a commit that took too long makes the next ones smaller, and quick full ones make them larger again', () => {
  const budget = commitBudget();
  const full = (): number => {
    let bytes = 0;
    while (budget.allows(bytes, 0)) bytes += 1_024;
    return bytes;
  };
  const first = full();
  for (let k = 0; k < 10; k += 1) budget.spent(full(), 500);
  const slow = full();
  expect(slow).toBeLessThan(first);
  for (let k = 0; k < 20; k += 1) budget.spent(full(), 5);
  expect(full()).toBeGreaterThan(4 * slow);
  // No message is accepted once the time is up, except that the first one always is.
  expect([budget.allows(1, 60), budget.allows(0, 0)]).toEqual([false, true]);
  expect(costOf(Buffer.alloc(200))).toBe(300);
});
