import { expect, test } from 'vitest';
import { startArcSums } from '../../shared/weld/run/arc-sums.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { assignmentPayload } from '../../shared/weld/procedure/assignment-payload.js';
import { receiveAssignment } from '../../shared/weld/run/assignment-timeline.js';
import type { Timeline } from '../../shared/weld/run/assignment-timeline.js';
import { checkAssignment, sameAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { enterPreparation } from '../../shared/weld/preparation/enter-preparation.js';
import { presentOutlook } from '../../shared/weld/ahead/outlook.js';
import { askedPreparation, confirmedEntries } from '../../shared/weld/preparation/preparation.js';
import { addValue, noSpreads, spreadOf } from '../../shared/weld/rows/spread-sum.js';
import { wireMass } from '../../shared/weld/run/wire-mass.js';

const planned: Assignment = { seam: 'S-1', run: 1, fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', electrodeExtension: 32 }] };
const at = (second: number): number => 1_795_590_000_000_000 + second * 1_000_000;
const confirmedOf = (assignment: Assignment): string[] => confirmedEntries(askedPreparation(assignment, undefined), assignment.preparation?.confirmed).map(({ entry, by }) => `${entry} ${by}`);

test('entries that came with the assignment are declared; entries that somebody makes or confirms come with who and when', () => {
  expect(confirmedOf(planned)).toEqual([]);
  const confirmed = enterPreparation(planned, { arcs: [{ arc: 1, wireLot: 'W-1' }], surfaceCleaned: true, flux: { dried: false } }, 'Kim', at(1));
  expect(confirmedOf(confirmed)).toEqual(['surfaceCleaned Kim', 'fluxDried Kim', 'wireLot Kim']);
  const again = enterPreparation(confirmed, { surfaceCleaned: true }, 'Lee', at(2));
  expect(again.preparation?.confirmed?.filter(({ entry }) => entry === 'surfaceCleaned')).toEqual([{ entry: 'surfaceCleaned', arc: null, value: true, by: 'Lee', at: at(2) }]);
  // Taken back: nobody has confirmed it.
  expect(confirmedOf(enterPreparation(again, { surfaceCleaned: null }, 'Lee', at(3)))).toEqual(['fluxDried Kim', 'wireLot Kim']);
});

test('a confirmation holds for the value that was confirmed and for no other', () => {
  const confirmed = enterPreparation(planned, { arcs: [{ arc: 1, wireLot: 'W-1' }] }, 'Kim', at(1));
  const timeline: Timeline = [{ body: confirmed, anchor: { after: null } }];
  receiveAssignment(timeline, { ...planned, arcs: [{ arc: 1, wireLot: 'W-2', electrodeExtension: 32 }] }, null, null, null);
  expect(confirmedOf(timeline[0]?.body ?? planned)).toEqual([]);
  receiveAssignment(timeline, planned, null, null, null);
  expect(confirmedOf(timeline[0]?.body ?? planned)).toEqual(['wireLot Kim']);
});

test('confirmations and changes survive a retained message unchanged', () => {
  const entered = enterPreparation(planned, { trackParallel: true, preheatMeasured: 95.5 }, 'Kim', at(1));
  const whole: Assignment = { ...entered, materials: [{ kind: 'spoolChanged', arc: 1, lot: 'W-9', mass: 25, travelled: 1200.5, melted: 30.25, by: 'Kim', at: at(60) }, { kind: 'fluxRefilled', arc: null, lot: 'F-2', mass: null, travelled: null, melted: null, by: 'Kim', at: at(61) }] };
  const read = checkAssignment(JSON.parse(JSON.stringify(assignmentPayload(whole))));
  expect(read).toEqual({ ok: true, assignment: whole });
  expect(read.ok && sameAssignment(whole, read.assignment)).toBe(true);
  const timeline: Timeline = [{ body: whole, anchor: { after: null } }];
  // Who plans knows nothing of them, or only what was read before.
  expect(receiveAssignment(timeline, planned, null, null, null)).toBe('same');
  expect(receiveAssignment(timeline, { ...planned, thickness: 20 }, null, null, null)).toBe('corrected');
  expect(timeline[0]?.body).toEqual({ ...whole, thickness: 20 });
});

test.each([
  [{ preparation: { confirmed: [{ entry: 'weather', value: true, by: 'Kim', at: 1 }] } }, 'preparation.confirmed[0].entry'],
  [{ preparation: { confirmed: [{ entry: 'fluxLot', value: 'F-1', at: 1 }] } }, 'preparation.confirmed[0].by'],
  [{ preparation: { confirmed: {} } }, 'preparation.confirmed'],
  [{ materials: [{ kind: 'wireBurnt', by: 'Kim', at: 1 }] }, 'materials[0].kind'],
  [{ materials: [{ kind: 'spoolChanged', mass: 0, by: 'Kim', at: 1 }] }, 'materials[0].mass'],
])('%j is refused with its field', (more, field) => {
  expect(checkAssignment({ seam: 'S-1', run: 1, ...more })).toMatchObject({ ok: false, field });
});

test('the wire that is left is that of the spool that is on', () => {
  // 1.2 m/min for 10 min are 12 m; 4 mm of steel weigh π/4 · 0.004² · 7850 = 0.09865 kg/m.
  const perMetre = (Math.PI / 4) * 0.004 ** 2 * 7850;
  expect(wireMass(4, 1)).toBeCloseTo(perMetre, 12);
  const melting = noSpreads();
  addValue(spreadOf(melting, 'wireFeedSpeed'), 1.2, 600);
  const sums = { speedTime: 0, parameters: { offsets: {}, wires: {} }, arcs: { 1: { ...startArcSums(), on: 600, spreads: melting } } } as unknown as Parameters<typeof presentOutlook>[0]['sums'];
  const left = (assignment: Assignment): number | null | undefined => presentOutlook({ assignment, sums, travelled: 0, gaps: [], newest: null, rates: { speed: null, standing: false, feed: new Map() } }).wire[0]?.massLeft;
  const arcs = [{ arc: 1, wireDiameter: 4, spoolMass: 25 }];
  expect(left({ seam: 'S', run: 1, arcs })).toBeCloseTo(25 - 12 * perMetre, 6);
  const changed = { kind: 'spoolChanged', arc: 1, lot: 'W-9', mass: 15, travelled: 100, melted: 8, by: 'Kim', at: 0 } as const;
  expect(left({ seam: 'S', run: 1, arcs, materials: [changed] })).toBeCloseTo(15 - 4 * perMetre, 6);
  // Nobody said how much is on it.
  expect(left({ seam: 'S', run: 1, arcs, materials: [{ ...changed, mass: null }] })).toBeNull();
});
