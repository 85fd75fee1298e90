import { useRef } from 'preact/hooks';
import { now } from '../shared/now.js';

/** An arc that goes out takes its values out of their limits before anybody knows that it is out: that is known 0.3 s after it began and told at most 0.2 s later, ms. */
const knownAfter = 600;

/** Whether a value is out and is `known` to be, or has been for so long that it is no arc going out. */
export function useHeldOut(isOut: boolean, known: boolean): boolean {
  const since = useRef<number | null>(null);
  if (!isOut) since.current = null;
  else since.current ??= Date.now();
  // Read, so that it is drawn again when the time is up.
  const held = since.current !== null && Math.max(now.value, Date.now()) - since.current >= knownAfter;
  return isOut && (known || held);
}
