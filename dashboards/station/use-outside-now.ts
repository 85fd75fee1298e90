import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { now } from '../shared/now.js';
import { placeIn } from '../shared/window-place.js';
import { stationQuantities } from './station-quantities.js';

/** A value must lie outside for this long before the sentence says so, ms: noise at a limit would make it flicker. */
const steadyFor = 1_000;

/** Whether a value has been outside its window for a second, alarm or not: nothing is judged during arc start, and an excursion has its on-delay. */
export function useOutsideNow(carriage: Carriage): boolean {
  const since = useSignal<number | null>(null);
  const outside = carriage.welding && stationQuantities(carriage).some(({ value, window }) => value !== null && window !== null && placeIn(window, value).by > 0);
  useEffect(() => {
    since.value = outside ? Date.now() : null;
  }, [outside, since]);
  return since.value !== null && now.value - since.value >= steadyFor;
}
