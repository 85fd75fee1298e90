import { expect, it } from 'vitest';
import { atPath } from '../replay/check-figures.js';
import { recorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 25);
const hour = 3_600_000;

/** The alarms of a carriage that welds and falls silent; while it welds, the wall clock is set just before its `reading`th reading. Null if it is not. */
function weldThenSilence(reading: number, by: number): unknown[] | null {
  const own = recorderByHand();
  try {
    const alarms = (): unknown[] => own.records('alarms').map((alarm) => atPath(alarm, 'quantity'));
    own.send(start, 0, 15);
    const wasSet = own.clock.setWhenRead(reading, by);
    own.send(start, 15, 17);
    if (!wasSet()) return null;
    own.send(start, 17, 22);
    own.clock.pass(4_500);
    expect(alarms(), `set by ${by} ms at reading ${reading}`).toEqual(['serviceClock']);
    own.clock.pass(1_000);
    expect(own.problems).toEqual([]);
    return alarms();
  } finally {
    own.close();
  }
}

// `noData` is raised after 5 s without an item while an arc was on, by arrival (common practice, no source): a clock that is set is no silence.
it.each([hour, 20_000, -20_000, -hour])('a wall clock set by %d ms at any moment is no silence, and hides none', (by) => {
  let moments = 0;
  for (let reading = 0; ; reading += 1) {
    const alarms = weldThenSilence(reading, by);
    if (alarms === null) break;
    expect(alarms, `set by ${by} ms at reading ${reading}`).toEqual(['serviceClock', 'noData']);
    moments += 1;
  }
  expect(moments).toBeGreaterThan(10);
});
