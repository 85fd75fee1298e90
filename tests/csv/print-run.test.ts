import { expect, test } from 'vitest';
import { printRun, type PrintedRun } from '../../services/cli/print-run.js';

const run: PrintedRun = {
  id: 'r1', site: 'hall', carriage: 'c1', seam: 'S/1', run: 1, attempt: 1, startedAt: '2026-11-25T06:00:00.000Z', endedAt: '2026-11-25T06:10:00.000Z',
  arcTime: 600, length: 5500, energy: 12100, arcEnergy: 2.2, heatInput: 2.2, method: 'average', complete: true, excursions: 0, notJudged: null, arcs: [], absent: {},
};

// EN 1011-2:2001, annex D: 2.2 kJ/mm, 150 °C, F2 0.45, F3 0.67, 24 mm.
test('a run with a cooling time and weld metal says both, and says for which steels', () => {
  const text = printRun({ ...run, t85: { value: 11.565231, form: 'three-dimensional' }, deposit: { mass: 0.118375 } });
  expect(text).toMatch(/^t8\/5 +11\.6 s \(three-dimensional heat flow; unalloyed and low-alloy steel\)$/m);
  expect(text).toMatch(/^weld metal +0\.118 kg$/m);
});

test('a run that has neither names neither', () => {
  expect(printRun({ ...run, t85: null, deposit: { mass: null } })).not.toMatch(/t8\/5|weld metal/);
});
