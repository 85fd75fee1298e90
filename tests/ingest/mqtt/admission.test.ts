import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { admission } from '../../../services/ingest/mqtt/admission.js';

const limits = { messages: 8, bytes: 800, clientMessages: 4, clientBytes: 400 };

describe('admission of messages', () => {
  it('stops a client at its limit and calls it back below half of it', () => {
    const gate = admission(limits);
    let called = 0;
    const share = gate.join(() => (called += 1));
    const settles = [1, 2, 3, 4].map(() => {
      expect(share.admit(10)).toBe(true);
      return share.hand(10);
    });
    expect(share.admit(10)).toBe(false);
    settles[0]?.();
    settles[0]?.();
    expect([called, gate.unsettled().messages]).toEqual([0, 3]);
    expect(share.admit(10)).toBe(false);
    settles[1]?.();
    expect(called).toBe(1);
    expect(share.admit(10)).toBe(true);
  });

  it('lets a message in that is longer than the limit where nothing else is there', () => {
    const share = admission(limits).join(() => undefined);
    expect(share.admit(5_000)).toBe(true);
    expect(share.admit(1)).toBe(false);
  });

  it('still counts messages that a client left with the recorder, and forgets those that never got there', () => {
    const gate = admission(limits);
    const share = gate.join(() => undefined);
    share.admit(100);
    share.admit(50);
    const settle = share.hand(100);
    share.leave();
    expect(gate.unsettled()).toEqual({ messages: 1, bytes: 100 });
    settle();
    expect(gate.unsettled()).toEqual({ messages: 0, bytes: 0 });
  });

  it('admits nothing while held, and calls everybody back afterwards', () => {
    const gate = admission(limits);
    const called: string[] = [];
    const a = gate.join(() => called.push('a'));
    gate.join(() => called.push('b'));
    gate.hold(true);
    expect(a.admit(1)).toBe(false);
    gate.hold(false);
    expect(called.sort()).toEqual(['a', 'b']);
    expect(a.admit(1)).toBe(true);
  });

  it('stays within the limits and never forgets to call back, whatever many clients do', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(3), fc.integer({ min: 1, max: 150 }), fc.boolean()), { maxLength: 200 }), (steps) => {
        const gate = admission(limits);
        const blocked = new Set<number>();
        const shares = [0, 1, 2, 3].map((i) => gate.join(() => blocked.delete(i)));
        const open: (() => void)[] = [];
        for (const [who, size, settle] of steps) {
          const share = shares[who];
          if (settle) open.shift()?.();
          else if (share?.admit(size) === true) open.push(share.hand(size));
          else blocked.add(who);
          expect(gate.unsettled().messages).toBe(open.length);
          expect(open.length).toBeLessThanOrEqual(limits.messages);
          expect(gate.unsettled().bytes).toBeLessThanOrEqual(limits.bytes);
        }
        for (const settle of open) settle();
        expect(gate.unsettled()).toEqual({ messages: 0, bytes: 0 });
        expect([...blocked]).toEqual([]);
      }),
    );
  });
});

it('a client with next to nothing unacknowledged is admitted even if others have filled all places', () => {
  const gate = admission({ messages: 1_000, bytes: 102_400, clientMessages: 1_000, clientBytes: 102_400 });
  const full = gate.join(() => undefined);
  while (full.admit(10_000)) full.hand(10_000);
  const small = gate.join(() => undefined);
  // 1/500 of 1,000 messages, 1/1024 of 102,400 bytes.
  expect([small.admit(50), small.admit(50), small.admit(50)]).toEqual([true, true, false]);
  expect(gate.join(() => undefined).admit(101)).toBe(false);
});
