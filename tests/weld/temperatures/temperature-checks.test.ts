import { describe, expect, test } from 'vitest';
import { outsideChecks, temperatureChecks } from '../../../shared/weld/temperatures/temperature-checks.js';

const windows = { preheat: { min: 80 }, interpassTemperature: { min: 60, max: 200 } };

describe('the temperature that counts against the limits of the run group', () => {
  test('is checked as preheat before every run, and as interpass temperature before every run but number 1', () => {
    const asked = (run: number | null): string[] => temperatureChecks(windows, run, 100).map(({ quantity }) => quantity);
    expect([asked(1), asked(2), asked(null)]).toEqual([['preheat'], ['preheat', 'interpassTemperature'], ['preheat', 'interpassTemperature']]);
    expect(temperatureChecks({}, 2, 100)).toEqual([]);
    expect(temperatureChecks({ interpassTemperature: { max: 200 } }, 1, 100)).toEqual([]);
  });

  test('has its limits inside, and both take the one that counts', () => {
    const verdicts = (value: number): string[] => temperatureChecks(windows, 2, value).map(({ verdict }) => verdict);
    expect([59.9, 60, 79.9, 80, 200, 200.1].map(verdicts)).toEqual([
      ['outside', 'outside'], ['outside', 'inside'], ['outside', 'inside'], ['inside', 'inside'], ['inside', 'inside'], ['inside', 'outside'],
    ]);
  });

  test('gives the ends that there are, and says where nothing was measured', () => {
    // 13:57 185 °C before a run lit at 14:00, max 200: inside.
    expect(temperatureChecks({ interpassTemperature: { max: 200 } }, 2, 185)).toEqual([{ quantity: 'interpassTemperature', min: null, max: 200, value: 185, verdict: 'inside' }]);
    expect(temperatureChecks(windows, 1, null)).toEqual([{ quantity: 'preheat', min: 80, max: null, value: null, verdict: 'notMeasured' }]);
  });

  test('names the end that was crossed', () => {
    expect(outsideChecks(temperatureChecks(windows, 2, 250))).toEqual([{ quantity: 'interpassTemperature', limit: 200, worst: 250 }]);
    expect(outsideChecks(temperatureChecks(windows, 2, 20))).toEqual([{ quantity: 'preheat', limit: 80, worst: 20 }, { quantity: 'interpassTemperature', limit: 60, worst: 20 }]);
    expect([100, null].flatMap((value) => outsideChecks(temperatureChecks(windows, 2, value)))).toEqual([]);
  });
});
