import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circumferenceOver, degreesAt } from '../../shared/weld/procedure/seam-degrees.js';
import { assignmentAfter, entryIndex, epochAfter, turnsMade } from '../../shared/weld/run/turn-epochs.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { carriageEvents } from '../replay/carriage-events.js';
import { caseStart, expandCase } from '../replay/expand-case.js';
import { replay } from '../replay/replay.js';
import { firstSeed } from '../seeds.js';

const seed = firstSeed();

describe('degrees of a circumference', () => {
  it('are those of the worked example', () => {
    // OD 4,200 mm at 500 mm/min with 50 mm of overlap: 13,194.689 mm round, 1,589.363 s with the overlap, 361.364°.
    const turn = Math.PI * 4200;
    expect(turn).toBeCloseTo(13_194.689, 3);
    expect(((turn + 50) / 500) * 60).toBeCloseTo(1_589.363, 3);
    expect(circumferenceOver(turn + 50, turn)).toEqual({ diameter: 4200, degrees: expect.closeTo(361.364, 3) as number, turns: expect.closeTo(361.364 / 360, 5) as number, overlap: expect.closeTo(50, 9) as number });
    // A quarter of a circle, backwards, and two turns and a half: never modulo 360.
    expect([degreesAt(turn / 4, turn), degreesAt(-turn / 4, turn), degreesAt(2.5 * turn, turn), degreesAt(null, turn), degreesAt(5, null)]).toEqual([90, -90, expect.closeTo(900, 9), null, null]);
  });

  it('are linear in the place', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 1, max: 1e5, noNaN: true }), (a, b, turn) => {
        const [one, other, both] = [degreesAt(a, turn), degreesAt(b, turn), degreesAt(a + b, turn)] as [number, number, number];
        expect(Math.abs(both - one - other)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(one), Math.abs(other)));
      }),
      { seed },
    );
  });
});

it('an epoch names its entry and the turns made under it, and epochs follow one another', () => {
  fc.assert(
    fc.property(fc.nat(1e6), fc.nat(9_998), fc.nat(1e6), fc.nat(9_998), (index, turns, other, more) => {
      const epoch = epochAfter(index, turns);
      expect([entryIndex(epoch), turnsMade(epoch)]).toEqual([index, turns]);
      expect(Math.sign(epoch - epochAfter(other, more))).toBe(Math.sign(index - other || turns - more));
    }),
    { seed },
  );
});

it('a turn takes the job over with the next number, and nothing that belongs to one run', () => {
  const job = { seam: 'C-1', run: 2, motion: 'work', diameter: 300, turnIsRun: true, fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', spoolMass: 20 }] } as const;
  const entered = { ...job, time: 5, preparation: { surfaceCleaned: true }, materials: [] };
  expect(assignmentAfter(entered, 0)).toBe(entered);
  expect(assignmentAfter(entered, 3)).toEqual({ ...job, run: 5, arcs: [{ arc: 1, wireLot: 'W-1' }] });
});

it('the runs of a series follow each other without a gap: lengths, times and energies are those of one run, each turn begins at the first reading at or after it', () => {
  fc.assert(
    fc.property(fc.double({ min: 8, max: 60, noNaN: true }), fc.integer({ min: 300, max: 1200 }), fc.integer({ min: 300, max: 900 }), (diameter, speed, readings) => {
      const welded = (more: object): ReturnType<typeof replay> => {
        const file = {
          title: '', source: '',
          stretches: [
            { from: 0, to: readings / 10, every: 100, travelSpeed: speed, arcs: [{ arc: 1, current: 600, voltage: 30 }] },
            { from: readings / 10 + 0.1, to: readings / 10 + 3, every: 100, travelSpeed: 0, arcs: [{ arc: 1, current: 0, voltage: 0 }] },
          ],
          assignments: [{ after: 'start' as const, assignment: { seam: 'C-1', run: 1, motion: 'work', diameter, ...more } }, { after: 'end' as const, assignment: null }],
        };
        return replay(carriageEvents(expandCase(file), caseStart(file)), { settings: defaultWeldSettings });
      };
      const [whole] = welded({});
      const runs = welded({ turnIsRun: true });
      const sum = (of: (run: (typeof runs)[number]) => number | null): number => runs.reduce((total, run) => total + (of(run) ?? 0), 0);
      expect(sum(({ figures }) => figures.length)).toBeCloseTo(whole?.figures.length ?? 0, 6);
      expect(sum(({ figures }) => figures.arcTime)).toBeCloseTo(whole?.figures.arcTime ?? 0, 6);
      expect(sum(({ figures }) => figures.energy)).toBeCloseTo(whole?.figures.energy ?? 0, 6);
      expect(sum(({ figures }) => figures.circumference?.turns ?? null)).toBeCloseTo(whole?.figures.circumference?.turns ?? 0, 9);
      // By hand: a reading every 100 ms is speed / 600 mm; the first at or after n turns has the number ⌈n · π · D / (speed / 600)⌉.
      const begun = runs.map(({ figures }) => Math.round((Date.parse(figures.startedAt) - caseStart({ title: '', source: '', stretches: [] })) / 100));
      const step = speed / 600;
      expect(begun).toEqual(runs.map((_, n) => Math.max(0, Math.ceil((n * Math.PI * diameter - 1e-6) / step))));
      expect(runs.map(({ assignment }) => assignment?.run)).toEqual(runs.map((_, n) => n + 1));
    }),
    { seed, numRuns: 12 },
  );
});
