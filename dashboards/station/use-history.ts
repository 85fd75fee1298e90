import { useRef } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { withPresent, type History } from './history.js';

/** The carriage's values since the page was opened, for the current run. */
export function useHistory(carriage: Carriage): History {
  const held = useRef<{ readonly run: string | null; readonly seen: string | null; readonly history: History }>({ run: null, seen: null, history: new Map() });
  const { run, lastSeen } = carriage;
  if (held.current.run !== run) held.current = { run, seen: null, history: new Map() };
  if (held.current.seen !== lastSeen) held.current = { run, seen: lastSeen, history: withPresent(held.current.history, carriage) };
  return held.current.history;
}
