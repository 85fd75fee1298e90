import { describe, expect, test } from 'vitest';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { receiveAssignment } from '../../shared/weld/run/assignment-timeline.js';
import type { Timeline } from '../../shared/weld/run/assignment-timeline.js';
import { enterPreparation } from '../../shared/weld/preparation/enter-preparation.js';
import { askedPreparation, missingOf } from '../../shared/weld/preparation/preparation.js';
import type { MissingEntry, PreparationGroup } from '../../shared/weld/preparation/preparation.js';

const least: Assignment = { seam: 'S', run: 1 };
const done = { surfaceCleaned: true, flux: { dried: true, temperature: 300, hours: 2 }, polarityChecked: true, trackParallel: true };
const ready: Assignment = { ...least, fluxLot: 'F-3307', arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32, wireLot: 'W-88121' }], preparation: done };
const group: PreparationGroup = { preheat: { min: 80 }, arcs: [{ arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, electrodeExtension: { min: 28, max: 36 } }] };

const missingPreparation = (...asked: Parameters<typeof askedPreparation>): MissingEntry[] => askedPreparation(...asked).flatMap(missingOf);
const names = (missing: readonly MissingEntry[]): string[] => missing.map(({ entry, arc, reason }) => `${entry}${arc === null ? '' : ` ${arc}`} ${reason}`);

describe('what is missing', () => {
  test('is everything that the trade asks for, in the order of the work, if nothing was entered and no procedure is named', () => {
    expect(names(missingPreparation(least, undefined))).toEqual([
      'surfaceCleaned notEntered', 'fluxDried notEntered', 'fluxTemperature notEntered', 'fluxHours notEntered', 'fluxLot notEntered', 'wireLot 1 notEntered',
      'polarityChecked notEntered', 'electrodeExtension 1 notEntered', 'trackParallel notEntered',
    ]);
  });

  test('includes what the procedure asks for: the diameter of each of its arcs, and the preheat', () => {
    const two: PreparationGroup = { preheat: { min: 80 }, arcs: [{ arc: 1, wireDiameter: 4 }, { arc: 2, wireDiameter: 3.2 }] };
    expect(names(missingPreparation(least, two)).slice(5)).toEqual([
      'wireLot 1 notEntered', 'wireLot 2 notEntered', 'polarityChecked notEntered', 'electrodeExtension 1 notEntered', 'electrodeExtension 2 notEntered',
      'wireDiameter 1 notEntered', 'wireDiameter 2 notEntered', 'trackParallel notEntered', 'preheatMeasured notEntered',
    ]);
  });

  test('is empty if everything is entered and within its limits', () => {
    expect(missingPreparation(ready, undefined)).toEqual([]);
    expect(missingPreparation({ ...ready, preparation: { ...done, preheatMeasured: 80 } }, group)).toEqual([]);
  });

  test('speaks of every arc that is named or was seen', () => {
    expect(names(missingPreparation(ready, undefined, [1, 3]))).toEqual(['wireLot 3 notEntered', 'electrodeExtension 3 notEntered']);
  });

  test('distinguishes "not done" from "not entered"; flux that was not baked has neither temperature nor time', () => {
    expect(names(missingPreparation({ ...ready, preparation: { ...done, surfaceCleaned: false, flux: { dried: false } } }, undefined))).toEqual(['surfaceCleaned notDone', 'fluxDried notDone']);
  });

  test('asks nobody for the polarity of arcs that all alternate', () => {
    const entered = { ...ready, preparation: { ...done, polarityChecked: undefined } };
    expect(names(missingPreparation(entered, { arcs: [{ arc: 1, currentType: 'AC' }] }))).toEqual([]);
    expect(names(missingPreparation(entered, { arcs: [{ arc: 1, currentType: 'DC' }] }))).toEqual(['polarityChecked notEntered']);
  });
});

describe('numbers outside', () => {
  const extended = (electrodeExtension: number, wireDiameter: number | undefined, by?: PreparationGroup): unknown[] =>
    missingPreparation({ ...ready, arcs: [{ arc: 1, wireLot: 'W', electrodeExtension, wireDiameter }] }, by).map(({ value, against, min, max }) => [value, against, min, max]);

  // 6 to 10 times the wire diameter, common practice: 4 mm gives 24 to 40 mm; 3.2 mm gives 19.2 to 32 mm, ends included.
  test.each([
    [23.9, 4, [[23.9, 'trade', 24, 40]]], [24, 4, []], [40, 4, []], [40.1, 4, [[40.1, 'trade', 24, 40]]],
    [19.2, 3.2, []], [19.1, 3.2, [[19.1, 'trade', 19.2, 32]]], [32, 3.2, []], [100, undefined, []],
  ])('an extension of %d mm on a wire of %s mm', (extension, diameter, outside) => {
    expect(extended(extension, diameter)).toEqual(outside);
  });

  test('the extension is compared with the window of the procedure and with the rule of thumb, each by itself', () => {
    const window: PreparationGroup = { arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: { min: 28, max: 36 } }] };
    expect(extended(27, 4, window)).toEqual([[27, 'procedure', 28, 36]]);
    expect(extended(41, 4, window)).toEqual([[41, 'procedure', 28, 36], [41, 'trade', 24, 40]]);
    // The procedure's diameter is used if none was entered.
    expect(extended(23, undefined, { arcs: [{ arc: 1, wireDiameter: 4 }] }).at(0)).toEqual([23, 'trade', 24, 40]);
    expect(extended(50, 4, { arcs: [{ arc: 1, electrodeExtension: { min: 45 } }] })).toEqual([[50, 'trade', 24, 40]]);
  });

  // 5/32 in is 25.4 · 5 / 32 = 3.96875 mm and passes for 4 mm; 3.2 mm is another wire.
  test.each([[4, 0], [3.96875, 0], [3.2, 1], [5, 1]])('a wire of %d mm where the procedure names 4 mm', (wireDiameter, count) => {
    const missing = missingPreparation({ ...ready, arcs: [{ arc: 1, wireLot: 'W', electrodeExtension: 32, wireDiameter }] }, { arcs: [{ arc: 1, wireDiameter: 4 }] });
    expect(missing.map(({ entry, reason, against }) => [entry, reason, against])).toEqual(Array(count).fill(['wireDiameter', 'outside', 'procedure']));
  });

  test.each([[79.9, 1], [80, 0], [250, 0]])('a preheat of %d °C where at least 80 °C are asked for', (preheatMeasured, count) => {
    const missing = missingPreparation({ ...ready, preheat: 20, preparation: { ...done, preheatMeasured } } as Assignment, group);
    expect(missing).toHaveLength(count);
    if (count === 1) expect(missing[0]).toEqual({ entry: 'preheatMeasured', arc: null, reason: 'outside', value: 79.9, against: 'procedure', min: 80, max: null });
  });

  test('a baking temperature is never outside: the handbook\'s value is a hint', () => {
    expect(missingPreparation({ ...ready, preparation: { ...done, flux: { dried: true, temperature: 60, hours: 0.5 } } }, undefined)).toEqual([]);
  });

  test('a declared preheat is not a measured one', () => {
    expect(names(missingPreparation({ ...ready, preheat: 120 } as Assignment, group))).toEqual(['preheatMeasured notEntered']);
  });
});

/** Who confirmed what is looked at on its own. */
function withoutConfirmed(assignment: Assignment): Assignment {
  const preparation = { ...assignment.preparation };
  delete preparation.confirmed;
  return { ...assignment, preparation };
}

describe('entering', () => {
  test('keeps what is not named, clears what is null, and says who and when', () => {
    const change = { surfaceCleaned: null, preheatMeasured: 95, flux: { hours: 3 }, fluxLot: 'F-2', arcs: [{ arc: 2, wireLot: 'W-2' }, { arc: 1, wireLot: null }] };
    expect(withoutConfirmed(enterPreparation({ ...ready, run: 7 }, change, 'op-07', 1_795_590_000_000_000))).toEqual({
      seam: 'S', run: 7, fluxLot: 'F-2',
      arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32 }, { arc: 2, wireLot: 'W-2' }],
      preparation: { flux: { dried: true, temperature: 300, hours: 3 }, polarityChecked: true, trackParallel: true, preheatMeasured: 95, by: 'op-07', at: 1_795_590_000_000_000 },
    });
    expect(ready).toEqual({ ...least, fluxLot: 'F-3307', arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32, wireLot: 'W-88121' }], preparation: done });
  });

  test('into an assignment that has nothing of it; the flux as a whole taken back', () => {
    expect(withoutConfirmed(enterPreparation(least, { surfaceCleaned: true }, 'local', 5))).toEqual({ ...least, preparation: { surfaceCleaned: true, by: 'local', at: 5 } });
    expect(withoutConfirmed(enterPreparation(ready, { flux: null, fluxLot: null, arcs: null }, 'local', 5))).toEqual({
      ...least, arcs: ready.arcs, preparation: { surfaceCleaned: true, polarityChecked: true, trackParallel: true, by: 'local', at: 5 },
    });
  });
});

describe('an assignment that corrects the one in force', () => {
  const entered = { ...done, at: 20 };
  const receive = (later: Assignment): { effect: string; body: Assignment | null | undefined } => {
    const timeline: Timeline = [{ body: { ...ready, preparation: entered }, anchor: { after: null } }];
    return { effect: receiveAssignment(timeline, later, null, null, null), body: timeline.at(-1)?.body };
  };

  test('keeps the preparation if it says nothing about it, or only what was known earlier', () => {
    const { preparation: _own, ...planned } = ready;
    expect(_own).toBe(done);
    expect(receive(planned)).toEqual({ effect: 'same', body: { ...ready, preparation: entered } });
    expect(receive({ ...planned, operator: 'op-08' })).toEqual({ effect: 'corrected', body: { ...ready, operator: 'op-08', preparation: entered } });
    expect(receive({ ...ready, preparation: { at: 10 }, operator: 'op-08' }).body?.preparation).toEqual(entered);
  });

  test('replaces the preparation if it gives a new one', () => {
    expect(receive({ ...ready, preparation: { surfaceCleaned: false, at: 30 } }).body?.preparation).toEqual({ surfaceCleaned: false, at: 30 });
    expect(receive({ ...ready, preparation: {} }).body?.preparation).toEqual({});
  });

  test('of another run begins with nothing entered', () => {
    expect(receive({ seam: 'S', run: 2 })).toEqual({ effect: 'added', body: { seam: 'S', run: 2 } });
  });
});
