import { useRef } from 'preact/hooks';
import { now } from '../shared/now.js';

/** When an arc goes out, its values leave their limits before anybody knows that it is out. This is known 0.3 s after it begins and published at most 0.2 s later, ms. */
const knownAfter = 600;

/** Whether a value is out and is `known` to be, or has been out for so long that the arc is not just going out. */
export function useSettledOut(isOut: boolean, known: boolean): boolean {
  const since = useRef<number | null>(null);
  if (!isOut) since.current = null;
  else since.current ??= Date.now();
  // Reads `now`, so that it is redrawn when the time is up.
  const held = since.current !== null && Math.max(now.value, Date.now()) - since.current >= knownAfter;
  return isOut && (known || held);
}
