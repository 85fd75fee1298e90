import { describe, expect, it } from 'vitest';
import type { Answer } from '../../dashboards/shared/api.js';
import { opened } from '../../dashboards/shared/live-feed.js';
import type { AnswerNow, Renewal } from '../../dashboards/shared/use-answer.js';
import { useAnswer } from '../../dashboards/shared/use-answer.js';
import type { RunningHook } from './run-hook.js';
import { runHook } from './run-hook.js';

interface Request {
  readonly signal: AbortSignal;
  readonly answer: (value: string) => void;
  readonly fail: (reason: string) => void;
}

interface Asking extends RunningHook<string, AnswerNow<string>> {
  readonly requests: readonly Request[];
  /** The request with that number, from 1, once it has been made; no later one was made. */
  readonly asked: (count: number) => Promise<Request>;
}

/** Asks a service whose answers come when a test says so, whether or not anybody waits for them; an empty question is not asked. */
function asking(renewal?: Renewal): Asking {
  const requests: Request[] = [];
  const ask = async (signal: AbortSignal): Promise<Answer<string>> =>
    await new Promise((resolve) => {
      requests.push({
        signal,
        answer: (value) => { resolve({ ok: true, value }); },
        fail: (reason) => { resolve({ ok: false, failure: { status: 500, reason } }); },
      });
    });
  const hook = runHook<string, AnswerNow<string>>((question) => useAnswer(question === '' ? null : ask, [question], renewal), 'a');
  return {
    ...hook,
    requests,
    asked: async (count) => {
      await expect.poll(() => requests.length).toBe(count);
      const request = requests[count - 1];
      if (request === undefined) throw new Error(`there is no request ${count}`);
      return request;
    },
  };
}

describe('an answer', () => {
  it('is known once it is there, and when it came', async () => {
    const { now, asked } = asking();
    expect(now()).toMatchObject({ value: null, failure: null, asking: true });
    const before = Date.now();
    (await asked(1)).answer('one');
    await expect.poll(now).toMatchObject({ value: 'one', failure: null, asking: false });
    expect(now().givenAt).toBeGreaterThanOrEqual(before);
  });

  it('belongs to its question: another question aborts the request, and a late answer is never shown', async () => {
    const { now, given, rerender, asked } = asking();
    const first = await asked(1);
    rerender('b');
    const second = await asked(2);
    expect([first.signal.aborted, second.signal.aborted]).toEqual([true, false]);
    second.answer('of b');
    await expect.poll(() => now().value).toBe('of b');
    first.answer('of a');
    rerender('b');
    expect(given.map(({ value }) => value)).not.toContain('of a');
    expect(now().value).toBe('of b');
  });

  it('is not shown for a moment as that of the next question', async () => {
    const { now, given, rerender, asked } = asking();
    (await asked(1)).answer('of a');
    await expect.poll(() => now().value).toBe('of a');
    const seen = given.length;
    rerender('b');
    (await asked(2)).answer('of b');
    await expect.poll(() => now().value).toBe('of b');
    expect(new Set(given.slice(seen).map(({ value }) => value))).toEqual(new Set([null, 'of b']));
  });

  it('stays while the same question is asked again, and where that fails', async () => {
    const { now, asked } = asking();
    (await asked(1)).fail('the disk is full');
    await expect.poll(now).toMatchObject({ value: null, failure: { status: 500, reason: 'the disk is full' }, asking: false });
    now().again();
    // Who reads why it failed goes on reading until there is an answer.
    await expect.poll(now).toMatchObject({ failure: { reason: 'the disk is full' }, asking: true });
    (await asked(2)).answer('one');
    await expect.poll(now).toMatchObject({ value: 'one', failure: null, asking: false });
    now().again();
    (await asked(3)).fail('the disk is full');
    await expect.poll(now).toMatchObject({ value: 'one', failure: { reason: 'the disk is full' }, asking: false });
  });

  it('is that of the newest request, in whatever order the answers come', async () => {
    const { now, given, asked } = asking();
    const first = await asked(1);
    now().again();
    (await asked(2)).answer('newer');
    await expect.poll(() => now().value).toBe('newer');
    expect(first.signal.aborted).toBe(true);
    first.answer('older');
    now().change((value) => `${value ?? ''}, changed`);
    await expect.poll(() => now().value).toBe('newer, changed');
    expect(given.map(({ value }) => value)).not.toContain('older');
  });

  it('is asked for again each time the live feed opens, or when what is named changes', async () => {
    const { now, asked } = asking();
    (await asked(1)).answer('before');
    await expect.poll(() => now().value).toBe('before');
    opened.value += 1;
    await expect.poll(now).toMatchObject({ value: 'before', asking: true });
    (await asked(2)).answer('after');
    await expect.poll(() => now().value).toBe('after');

    const once = asking({ by: [] });
    (await once.asked(1)).answer('only');
    await expect.poll(() => once.now().value).toBe('only');
    opened.value += 1;
    await asked(3);
    expect(once.requests).toHaveLength(1);
  });

  it('is requested from time to time if so wanted, but not while a request is on its way', async () => {
    const { now, requests, asked } = asking({ by: [], every: 20 });
    const first = await asked(1);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(requests).toHaveLength(1);
    expect(first.signal.aborted).toBe(false);
    first.answer('one');
    (await asked(2)).answer('two');
    await expect.poll(() => now().value).toBe('two');
  });

  it('is not requested without a question, nor by a page that has been left', async () => {
    const { now, requests, rerender, unmount, asked } = asking();
    const first = await asked(1);
    rerender('');
    await expect.poll(() => first.signal.aborted).toBe(true);
    expect(now()).toMatchObject({ value: null, asking: false });
    rerender('c');
    const second = await asked(2);
    unmount();
    expect(second.signal.aborted).toBe(true);
    opened.value += 1;
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(requests).toHaveLength(2);
  });

  it('does not count an aborted request as a failure', async () => {
    const hook = runHook<string, AnswerNow<string>>(
      (question) =>
        useAnswer(async (signal) => {
          if (question === 'b') return { ok: true, value: 'of b' };
          // As fetch does it.
          return await new Promise<Answer<string>>((_, reject) => { signal.addEventListener('abort', () => { reject(new DOMException('aborted', 'AbortError')); }); });
        }, [question]),
      'a',
    );
    await expect.poll(() => hook.given.length).toBeGreaterThan(0);
    hook.rerender('b');
    await expect.poll(hook.now).toMatchObject({ value: 'of b', failure: null });
  });
});
