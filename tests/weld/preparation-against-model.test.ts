import fc from 'fast-check';
import { expect, test } from 'vitest';
import { askedPreparation, missingOf } from '../../shared/weld/preparation/preparation.js';
import { plainMissing } from '../model/plain-preparation.js';

const optional = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(value, { nil: undefined });
const arc = fc.integer({ min: 1, max: 6 });
// Tenths of a millimetre, many of them on a limit of one of the diameters.
const length = fc.integer({ min: 1, max: 700 }).map((tenths) => tenths / 10);
const diameter = fc.constantFrom(1.6, 2, 2.4, 3.2, 3.96875, 4, 4.05, 5);
const limits = fc.record({ min: optional(length), max: optional(length) });
const lists = <T>(own: fc.Arbitrary<T & { readonly arc: number }>): fc.Arbitrary<(T & { readonly arc: number })[]> => fc.uniqueArray(own, { selector: (entry) => entry.arc, maxLength: 3 });

const assignment = fc.record({
  seam: fc.constant('S'), run: fc.constant(1), fluxLot: optional(fc.constant('F')),
  arcs: optional(lists(fc.record({ arc, wireDiameter: optional(diameter), electrodeExtension: optional(length), wireLot: optional(fc.constant('W')) }))),
  preparation: optional(fc.record({
    surfaceCleaned: optional(fc.boolean()), polarityChecked: optional(fc.boolean()), trackParallel: optional(fc.boolean()), preheatMeasured: optional(length),
    flux: optional(fc.record({ dried: optional(fc.boolean()), temperature: optional(length), hours: optional(length) })),
  })),
});
const group = optional(fc.record({
  preheat: optional(limits),
  arcs: optional(lists(fc.record({ arc, currentType: optional(fc.constantFrom('DC', 'AC')), wireDiameter: optional(diameter), electrodeExtension: optional(limits) }))),
}));

test('what is missing is what the plain model finds, whatever was entered and asked for', () => {
  fc.assert(
    fc.property(assignment, group, fc.uniqueArray(arc, { maxLength: 3 }), (entered, asked, burnt) => {
      expect(askedPreparation(entered, asked, burnt).flatMap(missingOf)).toEqual(plainMissing(entered, asked, burnt));
    }),
    { numRuns: 5000 },
  );
});
