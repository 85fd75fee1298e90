import { describe, expect, test } from 'vitest';
import { checkAssignment, decodeAssignment, sameAssignment } from '../../../shared/weld/decode/decode-assignment.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { payloadOf } from './payload.js';

const whole = {
  seam: 'DK-0417/L2', run: 3, procedure: 'SA-12', time: 1_795_590_000_000, purpose: 'production', seamLength: 6000, thickness: 20, side: 2,
  datum: 'punch mark frame 12', startOffset: 6060, direction: -1, runOn: 60, runOff: 60, motion: 'carriage', preheat: 20, operator: 'op-07',
  arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32, wireLot: 'W-88121', spoolMass: 25 }], fluxLot: 'F-3307',
};
const least = { seam: 's', run: 1 };

describe('assignments', () => {
  test('with every field; the time in microseconds', () => {
    expect(decodeAssignment(payloadOf(whole))).toEqual({ kind: 'assignment', assignment: { ...whole, time: 1_795_590_000_000_000 } });
  });

  test('with seam and run alone; null, empty and unknown fields are left out', () => {
    const padded = { ...least, procedure: null, operator: '', arcs: null, shift: 'night', simulated: true };
    expect(decodeAssignment(payloadOf(padded))).toEqual({ kind: 'assignment', assignment: { ...least, simulated: true } });
    expect(checkAssignment({ ...least, arcs: [{ arc: 2, wireLot: '', gas: 1 }] })).toEqual({ ok: true, assignment: { ...least, arcs: [{ arc: 2 }] } });
  });

  test('on turning work, with its diameter', () => {
    expect(checkAssignment({ ...least, motion: 'work', diameter: 4200 })).toEqual({ ok: true, assignment: { ...least, motion: 'work', diameter: 4200 } });
  });

  test('an end', () => {
    expect(decodeAssignment(new Uint8Array())).toEqual({ kind: 'end', time: null });
    expect(decodeAssignment(payloadOf({ seam: null }))).toEqual({ kind: 'end', time: null });
    expect(decodeAssignment(payloadOf({ seam: null, run: 3, time: null }))).toEqual({ kind: 'end', time: null });
    expect(decodeAssignment(payloadOf({ seam: null, time: '2026-11-25T09:00:12.5+01:00' }))).toEqual({ kind: 'end', time: 1_795_593_612_500_000 });
  });

  test.each([
    ['null', 'the assignment: got null; expected: a JSON object with seam and run'],
    ['[]', 'the assignment: got []; expected: a JSON object with seam and run'],
    ['{}', 'seam: missing; expected: text of 1 to 128 printable characters'],
    ['{"seam":null,"time":"later"}', 'time: got "later"; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
  ])('%s is refused', (payload, reason) => {
    expect(decodeAssignment(payloadOf(payload))).toEqual({ kind: 'refused', reason, head: payload });
  });

  test('with a preparation; when it was entered in microseconds', () => {
    const preparation = { surfaceCleaned: true, flux: { dried: true, temperature: 300, hours: 2.5 }, polarityChecked: false, trackParallel: true, preheatMeasured: 95, by: 'op-07' };
    const sent = { ...least, preparation: { ...preparation, at: '2026-11-25T09:00:12.5+01:00', shade: 'grey' } };
    expect(decodeAssignment(payloadOf(sent))).toEqual({ kind: 'assignment', assignment: { ...least, preparation: { ...preparation, at: 1_795_593_612_500_000 } } });
    expect(checkAssignment({ ...least, preparation: { surfaceCleaned: null, flux: { dried: null }, by: '' } })).toEqual({ ok: true, assignment: { ...least, preparation: { flux: {} } } });
    expect(checkAssignment({ ...least, preparation: null })).toEqual({ ok: true, assignment: least });
  });

  test.each([
    ['clean', 'preparation', 'got "clean"; expected: a JSON object'],
    [{ surfaceCleaned: 'yes' }, 'preparation.surfaceCleaned', 'got "yes"; expected: true, false'],
    [{ polarityChecked: 1 }, 'preparation.polarityChecked', 'got 1; expected: true, false'],
    [{ trackParallel: 'true' }, 'preparation.trackParallel', 'got "true"; expected: true, false'],
    [{ preheatMeasured: 1501 }, 'preparation.preheatMeasured', 'got 1501; expected: a number from -100 to 1500 (°C)'],
    [{ at: 'later' }, 'preparation.at', 'got "later"; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    [{ by: 7 }, 'preparation.by', 'got 7; expected: text of 1 to 128 printable characters'],
    [{ flux: true }, 'preparation.flux', 'got true; expected: a JSON object'],
    [{ flux: { dried: 'no' } }, 'preparation.flux.dried', 'got "no"; expected: true, false'],
    [{ flux: { temperature: -1 } }, 'preparation.flux.temperature', 'got -1; expected: a number from 0 to 1000 (°C)'],
    [{ flux: { hours: 169 } }, 'preparation.flux.hours', 'got 169; expected: a number from 0 to 168 (h)'],
  ])('the preparation %j is refused with its field', (preparation, field, words) => {
    expect(checkAssignment({ ...least, preparation })).toEqual({ ok: false, field, reason: `${field}: ${words}` });
  });

  test('not JSON', () => {
    expect(decodeAssignment(payloadOf('{'))).toMatchObject({ kind: 'refused', head: '{' });
    expect(decodeAssignment(new Uint8Array(1024 * 1024 + 1))).toMatchObject({ reason: 'the payload has 1048577 bytes; expected: at most 1048576 (1 MiB)' });
  });
});

describe('limits', () => {
  const longest = 'x'.repeat(128);
  const taken: readonly [keyof Assignment, unknown][] = [
    ['seam', longest], ['seam', 'é'.repeat(128)], ['run', 1], ['run', 9999], ['procedure', longest], ['purpose', 'testPiece'], ['purpose', 'repair'],
    ['purpose', 'tack'], ['seamLength', 0.001], ['seamLength', 1e7], ['thickness', 1000], ['side', 1], ['side', 9], ['datum', longest],
    ['startOffset', -1e7], ['startOffset', 1e7], ['startOffset', 0], ['direction', 1], ['direction', -1], ['runOn', 0], ['runOff', 1e5], ['motion', 'carriage'],
    ['diameter', 1e6], ['preheat', -100], ['preheat', 1500], ['operator', longest], ['fluxLot', longest], ['simulated', false],
    ['arcs', []], ['arcs', [1, 2, 3, 4, 5, 6].map((arc) => ({ arc }))], ['arcs', [{ arc: 6, wireDiameter: 20, electrodeExtension: 1000 }]],
  ];
  test.each(taken)('%s %j is taken', (field, value) => {
    expect(checkAssignment({ ...least, [field]: value })).toEqual({ ok: true, assignment: { ...least, [field]: value } });
  });

  const refused: readonly [string, unknown, string][] = [
    ['seam', '', 'got ""; expected: text of 1 to 128 printable characters'],
    ['seam', 417, 'got 417; expected: text of 1 to 128 printable characters'],
    ['seam', 'a\nb', 'got "a\\nb"; expected: text of 1 to 128 printable characters'],
    ['seam', `${longest}x`, `got "${'x'.repeat(63)}; expected: text of 1 to 128 printable characters`],
    ['run', 0, 'got 0; expected: an integer from 1 to 9999'],
    ['run', 10_000, 'got 10000; expected: an integer from 1 to 9999'],
    ['run', 1.5, 'got 1.5; expected: an integer from 1 to 9999'],
    ['run', '3', 'got "3"; expected: an integer from 1 to 9999'],
    ['run', null, 'missing; expected: an integer from 1 to 9999'],
    ['purpose', 'Production', 'got "Production"; expected: "production", "testPiece", "repair", "tack"'],
    ['seamLength', 0, 'got 0; expected: a number above 0 and up to 10000000 (mm)'],
    ['seamLength', '6000', 'got "6000"; expected: a number above 0 and up to 10000000 (mm)'],
    ['seamLength', Number.POSITIVE_INFINITY, 'got Infinity; expected: a number above 0 and up to 10000000 (mm)'],
    ['thickness', 1000.1, 'got 1000.1; expected: a number above 0 and up to 1000 (mm)'],
    ['side', 0, 'got 0; expected: an integer from 1 to 9'],
    ['startOffset', 10_000_001, 'got 10000001; expected: a number from -10000000 to 10000000 (mm)'],
    ['direction', 0, 'got 0; expected: 1, -1'],
    ['direction', '1', 'got "1"; expected: 1, -1'],
    ['runOn', -1, 'got -1; expected: a number from 0 to 100000 (mm)'],
    ['motion', 'rotator', 'got "rotator"; expected: "carriage", "work"'],
    ['motion', 'work', 'diameter'],
    ['diameter', 0, 'got 0; expected: a number from 1 to 1000000 (mm)'],
    ['preheat', 1501, 'got 1501; expected: a number from -100 to 1500 (°C)'],
    ['time', -5, 'got -5; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    ['simulated', 'yes', 'got "yes"; expected: true, false'],
    ['operator', `${longest}x`, `got "${'x'.repeat(63)}; expected: text of 1 to 128 printable characters`],
    ['arcs', {}, 'got {}; expected: a list of up to 6 arcs'],
    ['arcs', Array(7).fill({ arc: 1 }), 'got a list of 7; expected: a list of up to 6 arcs'],
  ];
  test.each(refused)('%s %j is refused', (field, value, words) => {
    const result = checkAssignment({ ...least, [field]: value });
    if (words === 'diameter') {
      const reason = 'diameter: missing; expected: a number from 1 to 1000000 (mm); it is required where motion is "work"';
      expect(result).toEqual({ ok: false, field: 'diameter', reason });
    } else {
      expect(result).toEqual({ ok: false, field, reason: `${field}: ${words}` });
    }
  });

  test.each([
    [[5], 'arcs[0]', 'got 5; expected: a JSON object with arc'],
    [[{}], 'arcs[0].arc', 'missing; expected: an integer from 1 to 6'],
    [[{ arc: 7 }], 'arcs[0].arc', 'got 7; expected: an integer from 1 to 6'],
    [[{ arc: 1 }, { arc: 1 }], 'arcs[1].arc', 'got 1; expected: each arc once'],
    [[{ arc: 1, wireDiameter: 0 }], 'arcs[0].wireDiameter', 'got 0; expected: a number above 0 and up to 20 (mm)'],
    [[{ arc: 1, electrodeExtension: 1001 }], 'arcs[0].electrodeExtension', 'got 1001; expected: a number above 0 and up to 1000 (mm)'],
    [[{ arc: 1, spoolMass: 0 }], 'arcs[0].spoolMass', 'got 0; expected: a number above 0 and up to 5000 (kg)'],
    [[{ arc: 1, wireLot: 5 }], 'arcs[0].wireLot', 'got 5; expected: text of 1 to 128 printable characters'],
  ])('arcs %j', (arcs, field, words) => {
    expect(checkAssignment({ ...least, arcs })).toEqual({ ok: false, field, reason: `${field}: ${words}` });
  });
});

describe('the same assignment', () => {
  const read = (value: object): Assignment => {
    const checked = checkAssignment(value);
    if (!checked.ok) throw new Error(checked.reason);
    return checked.assignment;
  };

  test('equal in all fields, whatever their order; a later one without time is still the same', () => {
    const { time: _time, ...timeless } = whole;
    expect(_time).toBe(whole.time);
    const turned = Object.fromEntries(Object.entries(timeless).reverse());
    expect(sameAssignment(read(whole), read(whole))).toBe(true);
    expect(sameAssignment(read(whole), read(turned))).toBe(true);
    expect(sameAssignment(read(timeless), read(whole))).toBe(false);
    expect(sameAssignment(read(whole), read({ ...whole, time: whole.time + 1 }))).toBe(false);
  });

  test('a default that is spelled out, and arcs in another order, change nothing', () => {
    expect(sameAssignment(read(least), read({ ...least, direction: 1, startOffset: 0, motion: 'carriage', simulated: false, arcs: [], preparation: {} }))).toBe(true);
    expect(sameAssignment(read({ ...least, arcs: [{ arc: 1 }, { arc: 2, wireLot: 'a' }] }), read({ ...least, arcs: [{ wireLot: 'a', arc: 2 }, { arc: 1 }] }))).toBe(true);
  });

  const changes: readonly object[] = [
    { preparation: { surfaceCleaned: true } }, { preparation: { flux: { dried: true } } }, { preparation: { flux: { hours: 2 } } }, { preparation: { trackParallel: false } }, { preparation: { at: 5 } },
    { seam: 'x' }, { run: 4 }, { procedure: 'y' }, { purpose: 'repair' }, { seamLength: 1 }, { thickness: 1 }, { side: 1 }, { datum: 'z' }, { startOffset: 0 },
    { direction: 1 }, { runOn: 1 }, { runOff: 1 }, { motion: 'work', diameter: 5 }, { diameter: 5 }, { preheat: 1 }, { operator: 'q' }, { fluxLot: 'q' },
    { simulated: true }, { arcs: [] }, { arcs: [{ arc: 1 }] }, { arcs: [{ ...whole.arcs[0], wireLot: 'other' }] }, { arcs: [{ ...whole.arcs[0], spoolMass: 24 }] }, { fluxLot: null },
  ];
  test.each(changes)('%j makes it another', (change) => {
    expect(sameAssignment(read(whole), read({ ...whole, ...change }))).toBe(false);
  });
});
