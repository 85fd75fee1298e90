import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assignmentAnswer, assignmentRequestSchema, assignmentSchema, preparationRequestSchema } from '../../shared/api-types/assignment.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { checkAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { procedureParameters, runGroupOf } from '../../shared/weld/procedure/procedure-parameters.js';

const limits: readonly (readonly [string, number, number])[] = [
  ['seamLength', 0, 1e7], ['thickness', 0, 1000], ['side', 1, 9], ['startOffset', -1e7, 1e7], ['runOn', 0, 1e5], ['runOff', 0, 1e5], ['diameter', 1, 1e6], ['preheat', -100, 1500], ['run', 1, 9999],
];

test('what the description says of an assignment is what is checked, at every limit and beyond', () => {
  fc.assert(
    fc.property(fc.constantFrom(...limits), fc.constantFrom(-1, 0, 1, 0.5), fc.boolean(), ([name, low, high], beyond, upper) => {
      const value = { seam: 'S', run: 1, [name]: (upper ? high : low) + beyond };
      expect(assignmentRequestSchema.safeParse(value).success, JSON.stringify(value)).toBe(checkAssignment(value).ok);
    }),
  );
});

const preparationLimits: readonly (readonly [string, number, number])[] = [['preheatMeasured', -100, 1500], ['temperature', 0, 1000], ['hours', 0, 168]];

test('the same holds for a preparation, in an assignment and entered by itself', () => {
  fc.assert(
    fc.property(fc.constantFrom(...preparationLimits), fc.constantFrom(-1, 0, 1, 0.5), fc.boolean(), ([name, low, high], beyond, upper) => {
      const value = (upper ? high : low) + beyond;
      const entered = name === 'preheatMeasured' ? { [name]: value } : { flux: { [name]: value } };
      const taken = checkAssignment({ seam: 'S', run: 1, preparation: entered }).ok;
      expect(assignmentRequestSchema.safeParse({ seam: 'S', run: 1, preparation: entered }).success).toBe(taken);
      expect(preparationRequestSchema.safeParse(entered).success).toBe(taken);
    }),
  );
});

test('an accepted assignment is answered in the announced form', () => {
  const word = fc.stringMatching(/^[ -~]{1,128}$/);
  const optional = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(value, { nil: undefined });
  const sent = fc.record({
    seam: word, run: fc.integer({ min: 1, max: 9999 }), time: optional(fc.integer({ min: 0, max: 4e12 })), procedure: optional(word), direction: optional(fc.constantFrom(1, -1)),
    preparation: optional(fc.record({ surfaceCleaned: optional(fc.boolean()), flux: optional(fc.record({ dried: optional(fc.boolean()), hours: optional(fc.integer({ min: 0, max: 168 })) })), at: optional(fc.integer({ min: 0, max: 4e12 })) })),
    arcs: optional(fc.uniqueArray(fc.record({ arc: fc.integer({ min: 1, max: 6 }), wireLot: optional(word), spoolMass: optional(fc.integer({ min: 1, max: 5000 })) }), { selector: (own) => own.arc })), simulated: optional(fc.boolean()),
  });
  fc.assert(
    fc.property(sent, (value) => {
      expect(assignmentRequestSchema.safeParse(value).success).toBe(true);
      const checked = checkAssignment(value);
      if (!checked.ok) throw new Error(checked.reason);
      const answer = assignmentAnswer(checked.assignment);
      expect(assignmentSchema.safeParse(answer).error?.issues).toBeUndefined();
      if (value.preparation?.at !== undefined) expect(Date.parse(answer.preparation?.at ?? '')).toBe(value.preparation.at);
      if (value.time !== undefined) expect(Date.parse(answer.time ?? '')).toBe(value.time);
    }),
  );
});

test('the first run group that fits is the one of a run, and its offsets are those of the arcs', () => {
  const groups = [
    { name: 'root', side: 1, runs: [1, 1], arcs: [{ arc: 2, offset: 60 }] },
    { name: 'fill', runs: [2, 5], shapeFactors: { f2: 0.9 }, arcs: [{ arc: 2, offset: 70, wireDiameter: 3.2, wires: 2, recovery: 0.98, electrodeExtension: { min: 24 }, currentType: 'DC', polarity: 'EN' }, { arc: 3 }] },
    { name: 'second side', side: 2, runs: [1, 9] },
  ];
  const name = (assignment: Pick<Assignment, 'run' | 'side'> | null): string | undefined => runGroupOf(groups, assignment)?.name;
  expect([name({ run: 1, side: 1 }), name({ run: 1, side: 2 }), name({ run: 1 }), name({ run: 3, side: 2 }), name({ run: 6, side: 1 }), name(null)]).toEqual(['root', 'second side', 'root', 'fill', undefined, undefined]);
  expect(procedureParameters({ thermalEfficiency: 0.8, fluxRatio: 1.2, runGroups: groups, alarm: { craterTime: 0 } }, { run: 2 })).toEqual({
    thermalEfficiency: 0.8, ignitionTime: 2, ignitionLength: 15, craterTime: 0, offsets: { 2: 70, 3: 0 }, fluxRatio: 1.2,
    wires: { 2: { diameter: 3.2, count: 2, recovery: 0.98, extensionWindow: { min: 24 } }, 3: { diameter: null, count: 1, recovery: 1, extensionWindow: null } }, alternating: [], runGroup: 'fill', shapeFactors: { f2: 0.9, f3: 1 },
    windows: { arcs: { 2: {}, 3: {} }, run: {}, smoothing: 1e6, onDelay: 1e6, offDelay: 3e6, deadband: 0.05, heatInputLength: 50, polarity: { 2: -1 }, alarms: {} },
    temperatureWindows: {},
  });
});
