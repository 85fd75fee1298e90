import { signal } from '@preact/signals';
import { fetchHealth } from './api.js';

export type HealthState =
  | { readonly is: 'unknown' | 'good' }
  | { readonly is: 'failing' | 'unreachable'; readonly reason: string; readonly since: number };

/** Whether the service answers and stores; `since` is browser time, ms. */
export const health = signal<HealthState>({ is: 'unknown' });

const every = 5_000;
const wait = 4_000;
let timer: ReturnType<typeof setTimeout> | null = null;
let asking = false;
/** Whether something has pointed to a change since the question at hand was put. */
let changed = false;

export function startHealthPoll(): void {
  void ask();
  window.addEventListener('online', askHealthNow);
  window.addEventListener('offline', askHealthNow);
}

/** Asks without waiting for the next turn, for when something points to a change. */
export function askHealthNow(): void {
  if (asking) changed = true;
  else void ask();
}

/** It may have been set while an answer was awaited. */
const hasChanged = (): boolean => changed;

async function ask(): Promise<void> {
  if (timer !== null) clearTimeout(timer);
  asking = true;
  changed = false;
  const answer = await fetchHealth(wait);
  asking = false;
  // A question from before the change that got no answer says nothing about now.
  if (hasChanged() && !answer.ok && answer.failure.status === null) {
    void ask();
    return;
  }
  health.value = answer.ok ? { is: 'good' } : failed(answer.failure.status, answer.failure.reason);
  timer = setTimeout(() => void ask(), every);
}

function failed(status: number | null, reason: string): HealthState {
  const is = status === null ? 'unreachable' : 'failing';
  const before = health.peek();
  return { is, reason, since: before.is === is ? before.since : Date.now() };
}
