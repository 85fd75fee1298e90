import type { PlainAlarm } from './alarm-types.js';

export type PlainState = 'unacknowledged' | 'acknowledged' | 'returned' | 'shelved' | 'suppressed' | 'normal';

/** What a person did with an alarm; times in µs of the clock. */
export type HumanAction = { readonly at: number } & ({ readonly kind: 'acknowledge' } | { readonly kind: 'shelve'; readonly until: number });

/** The state of an alarm at a moment of the clock, in the terms of IEC 62682, from the weld and from what people did. */
export function plainState(alarm: PlainAlarm, actions: readonly HumanAction[], now: number): PlainState {
  const done = actions.filter(({ at }) => at <= now);
  const shelving = done.findLast((action) => action.kind === 'shelve');
  if (shelving?.kind === 'shelve' && now < shelving.until) return 'shelved';
  const acknowledged = done.some(({ kind }) => kind === 'acknowledge');
  if (alarm.withdrawn) return 'normal';
  const over = alarm.returnedAt !== null;
  if (alarm.suppressed) return over ? 'normal' : 'suppressed';
  if (over) return acknowledged ? 'normal' : 'returned';
  return acknowledged ? 'acknowledged' : 'unacknowledged';
}
