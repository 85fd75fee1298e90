import { signal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Answer, Failure } from './api.js';
import { opened } from './live-feed.js';

/** Asks the service. `held` returns what is known so far, for an answer that continues it. */
export type Ask<T> = (signal: AbortSignal, held: () => T | null) => Promise<Answer<T>>;

/** When the same question is asked again. */
export interface Renewal {
  /** Whenever one of these changes; by default each time the live feed opens, as earlier answers may be out of date by then. */
  readonly by?: readonly unknown[];
  /** From time to time, ms. */
  readonly every?: number;
}

interface Known<T> {
  /** The newest answer; null until there is one. A later failure leaves it as it is. */
  readonly value: T | null;
  /** Why the newest asking failed; null where it did not. */
  readonly failure: Failure | null;
  readonly asking: boolean;
  /** Browser time of the newest answer or change, ms. */
  readonly givenAt: number;
}

export interface AnswerNow<T> extends Known<T> {
  readonly again: () => void;
  /** Changes the answer by what has come another way: by the live feed, or as the answer to a write. */
  readonly change: (change: (value: T | null) => T | null) => void;
}

/**
 * The service's answer to a question. The question changes whenever something in `question` changes; then nothing is known until it is
 * answered. If `ask` is null, nothing is requested. A request that nobody waits for any more is aborted.
 */
export function useAnswer<T>(ask: Ask<T> | null, question: readonly unknown[], { by = [opened.value], every }: Renewal = {}): AnswerNow<T> {
  // Each question has its own place for the answer, so that no answer is ever shown for another question.
  const known = useMemo(() => signal<Known<T>>({ value: null, failure: null, asking: ask !== null, givenAt: 0 }), question);
  const request = useRef(new AbortController());
  const again = (): void => {
    request.current.abort();
    known.value = { ...known.peek(), asking: ask !== null };
    if (ask === null) return;
    const own = new AbortController();
    request.current = own;
    void ask(own.signal, () => known.peek().value).then(
      (answer) => {
        if (own.signal.aborted) return;
        known.value = answer.ok ? { value: answer.value, failure: null, asking: false, givenAt: Date.now() } : { ...known.peek(), failure: answer.failure, asking: false };
      },
      (error: unknown) => { if (!own.signal.aborted) throw error; },
    );
  };
  useEffect(() => {
    again();
    const timer = every === undefined ? undefined : setInterval(() => { if (!known.peek().asking) again(); }, every);
    return () => {
      clearInterval(timer);
      request.current.abort();
    };
  }, [known, ...by]);
  return {
    ...known.value,
    again,
    change: (change) => {
      const before = known.peek();
      const value = change(before.value);
      if (value !== before.value) known.value = { ...before, value, givenAt: Date.now() };
    },
  };
}
