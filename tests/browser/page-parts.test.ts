import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { carriageState } from '../../dashboards/shared/carriage-state.js';
import { readAddress, writeAddress } from '../../dashboards/shared/address.js';
import { hearServerTime, serverTime, startServerClock } from '../../dashboards/shared/server-clock.js';
import { readView, viewAddress } from '../../dashboards/run/run-view.js';
import { zoomed } from '../../dashboards/run/panels/zoomed.js';

describe('addresses', () => {
  it('read back as they were written, whatever a seam is called', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1 }), fc.string({ minLength: 1, unit: 'grapheme' }), (id, seam) => {
        const { path, query } = readAddress(writeAddress(['run', id], { seam, empty: '' }));
        expect(path).toEqual(['run', id]);
        expect(query.get('seam')).toBe(seam);
        expect(query.has('empty')).toBe(false);
      }),
    );
  });

  it('with nonsense in them give the usual view', () => {
    expect(readView(new URLSearchParams('axis=sideways&from=abc&to=1e99'))).toEqual({ axis: 'time', from: null, to: null, compared: null });
    expect(readView(new URLSearchParams('axis=seamPosition&from=20&to=10'))).toEqual({ axis: 'seamPosition', from: 10, to: 20, compared: null });
    expect(viewAddress('a/b', { axis: 'time', from: 1.23456, to: null, compared: null })).toBe('#/run/a%2Fb?from=1.235');
    expect(readAddress('#/run/%E0%A4%A').path).toEqual(['run', '%E0%A4%A']);
  });
});

describe('the age of what a carriage sent', () => {
  const carriage = { lastSeen: '2026-11-25T12:00:00.000Z', welding: true, online: true };
  const at = Date.parse(carriage.lastSeen);

  // The house rule: older than 2 s while welding.
  it('makes it stale after 2 s of welding, not of standing still', () => {
    expect(carriageState(carriage, at + 2_000)).toMatchObject({ stale: false, words: 'Welding' });
    expect(carriageState(carriage, at + 2_100)).toMatchObject({ stale: true, words: 'Was welding – no data for 2.1\u00a0s' });
    expect(carriageState({ ...carriage, online: false }, at + 7_000).words).toBe('Offline – no data for 7.0\u00a0s');
    expect(carriageState({ ...carriage, welding: false }, at + 9_000)).toMatchObject({ stale: false, words: 'Arc off' });
    expect(carriageState({ ...carriage, lastSeen: null }, at)).toMatchObject({ stale: true, age: null });
  });
});

describe('the clock of the service', () => {
  it('is known to the delay of the fastest message, however the browser’s clock is set', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 40 }), (offset, delays) => {
        const begin = 1_795_000_000_000;
        let clock = startServerClock(begin);
        delays.forEach((delay, number) => {
          const sent = begin + number * 200;
          clock = hearServerTime(clock, { least: sent + offset, greatest: Infinity, from: sent + delay, to: sent + delay });
        });
        expect(serverTime(clock, begin)).toBe(begin + offset - Math.min(...delays));
      }),
    );
  });

  it('is found again at once when the browser’s clock was set forward by an hour', () => {
    let clock = startServerClock(0);
    clock = hearServerTime(clock, { least: 10_000, greatest: 11_000, from: 10_000, to: 10_020 });
    clock = hearServerTime(clock, { least: 20_000, greatest: 21_000, from: 3_620_000, to: 3_620_010 });
    expect(serverTime(clock, 3_620_010)).toBe(20_000);
  });

  it('is the browser’s own before anything was heard', () => {
    expect(serverTime(startServerClock(5), 77)).toBe(77);
  });
});

describe('a step of the zoom', () => {
  it('keeps the cursor where it is in the picture', () => {
    expect(zoomed([0, 100], 0.5, 0, 20)).toEqual([10, 60]);
    expect(zoomed([0, 100], 0.5, 0, null)).toEqual([25, 75]);
    expect(zoomed([10, 20], 1, 0.5, null)).toEqual([15, 25]);
  });
});
