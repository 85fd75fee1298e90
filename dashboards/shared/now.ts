import { computed, signal } from '@preact/signals';
import { hearServerTime, serverTime, startServerClock } from './server-clock.js';

const clock = signal(startServerClock(Date.now()));
const tick = signal(Date.now());

setInterval(() => { tick.value = Date.now(); }, 250);

/** Browser time, ms, renewed four times a second. */
export const now = computed(() => tick.value);

/** Server time, ms, renewed with `now`: ages do not depend on how well the browser's clock is set. */
export const serverNow = computed(() => serverTime(clock.value, tick.value));

/** Takes note that a message arrived that was sent at or after that server time. */
export function hearSentAfter(time: string | null): void {
  const least = time === null ? Number.NaN : Date.parse(time);
  if (Number.isNaN(least)) return;
  const at = Date.now();
  clock.value = hearServerTime(clock.peek(), { least, greatest: Infinity, from: at, to: at });
}

/** The answer to a request carries the server's `Date`, cut to the second (RFC 9110, 6.6.1). */
export function hearDateHeader(date: string | null, askedAt: number): void {
  const least = date === null ? Number.NaN : Date.parse(date);
  if (Number.isNaN(least)) return;
  clock.value = hearServerTime(clock.peek(), { least, greatest: least + 1000, from: askedAt, to: Date.now() });
}
