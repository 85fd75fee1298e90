import { crossedLimit, type TemperatureWindows } from '../procedure/run-windows.js';

export const checkedTemperatures = ['preheat', 'interpassTemperature'] as const satisfies readonly (keyof TemperatureWindows)[];
export type CheckedTemperature = (typeof checkedTemperatures)[number];

/** The temperature that counts for a run against one pair of limits, °C. */
export interface TemperatureCheck {
  readonly quantity: CheckedTemperature;
  readonly min: number | null;
  readonly max: number | null;
  /** Null if none counts. */
  readonly value: number | null;
  readonly verdict: 'inside' | 'outside' | 'notMeasured';
}

/**
 * The checks of a run: preheat if the run group has limits for it, interpass temperature if it has and the run is not number 1, whatever its side, since a
 * second side is welded on a plate that the first has warmed. Limits themselves are inside. What is only declared is no measurement.
 */
export function temperatureChecks(windows: TemperatureWindows, run: number | null, value: number | null): TemperatureCheck[] {
  return checkedTemperatures.flatMap((quantity): TemperatureCheck[] => {
    const window = windows[quantity];
    if (window === undefined || (quantity === 'interpassTemperature' && run === 1)) return [];
    const { min = null, max = null } = window;
    const verdict = value === null ? 'notMeasured' : crossedLimit(window, value) === null ? 'inside' : 'outside';
    return [{ quantity, min, max, value, verdict }];
  });
}

/** A temperature outside its limits: the end that it crossed, and the value, °C. */
export interface TemperatureOutside {
  readonly quantity: CheckedTemperature;
  readonly limit: number;
  readonly worst: number;
}

export function outsideChecks(checks: readonly TemperatureCheck[]): TemperatureOutside[] {
  return checks.flatMap(({ quantity, min, max, value }) => {
    const limit = value === null ? null : crossedLimit({ min: min ?? undefined, max: max ?? undefined }, value);
    return limit === null || value === null ? [] : [{ quantity, limit, worst: value }];
  });
}
