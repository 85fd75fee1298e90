import { describe, expect, it } from 'vitest';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { procedureParameters } from '../../../shared/weld/procedure/procedure-parameters.js';
import { runParameters } from '../../../shared/weld/procedure/zone.js';
import { runningFigures, type RunFigures } from '../../../shared/weld/run/run-figures.js';
import { addRow, startRunSums } from '../../../shared/weld/run/run-sums.js';
import { defaultWeldSettings } from '../../../shared/weld/weld-settings.js';
import { carriageEvents } from '../../replay/carriage-events.js';
import { caseStart, expandCase } from '../../replay/expand-case.js';
import { replay, type ReplayedRun } from '../../replay/replay.js';
import { dark, weld } from '../window-case.js';

const fillet = procedureParameters({ runGroups: [{ runs: [1, 9], shapeFactors: { f2: 0.45, f3: 0.67 } }] }, { run: 1 });

/** 550 A and 40 V at 10 mm/s are 2.2 kJ/mm. */
function filletRun(assignment: Partial<Assignment>, seconds = 30): ReplayedRun {
  const full = { seam: 'S-1', run: 1, procedure: 'P-1', ...assignment };
  const file = {
    title: '', source: '', stretches: [weld(0, seconds, { current: 550, voltage: 40 }), dark(seconds, seconds + 5)],
    assignments: [{ after: 'start' as const, assignment: full }, { after: 'end' as const, assignment: null }],
  };
  const [run] = replay(carriageEvents(expandCase(file), caseStart(file)), { settings: defaultWeldSettings, procedures: new Map([['P-1', fillet]]) });
  if (run === undefined) throw new Error('a run expected');
  return run;
}

const why = (assignment: Partial<Assignment>, seconds?: number): Pick<RunFigures, 't85'> & { code: unknown; absent: string | undefined } => {
  const { figures } = filletRun(assignment, seconds);
  return { t85: figures.t85, code: figures.reasons['t85'], absent: figures.absent['t85'] };
};

describe('t8/5 of a run', () => {
  it('says which input is missing', () => {
    expect(why({ preheat: 150 })).toEqual({ t85: null, code: { code: 'coolingUnknown', missing: ['thickness'] }, absent: 'the assignment names no thickness' });
    expect(why({ thickness: 24 }).code).toEqual({ code: 'coolingUnknown', missing: ['temperature'] });
    expect(why({}).code).toEqual({ code: 'coolingUnknown', missing: ['thickness', 'temperature'] });
    expect(why({ thickness: 24, preheat: 500 })).toMatchObject({ t85: null, code: { code: 'plateTooHot', temperature: 500 } });
    expect(why({ thickness: 24, preheat: 499 }).t85).not.toBeNull();
    // 1.5 s are 15 mm; 3 s are 30 mm, but all of it arc start or crater.
    expect(why({ thickness: 24, preheat: 150 }, 1.5).code).toEqual({ code: 'shorter', length: 20 });
    expect(why({ thickness: 24, preheat: 150 }, 3).code).toEqual({ code: 'noWeldZone' });
  });

  it('takes a temperature that was measured before the one that is declared', () => {
    const assignment = { thickness: 24, preheat: 20 };
    expect(runParameters(assignment, fillet, { temperature: { value: 150, from: 'interpass' } }).cooling).toEqual({ thickness: 24, f2: 0.45, f3: 0.67, temperature: { value: 150, from: 'interpass' } });
    expect(runParameters(assignment, fillet).cooling.temperature).toEqual({ value: 20, from: 'declared' });
    expect(runParameters({ thickness: 24 }, fillet).cooling.temperature).toBeNull();
    expect(runParameters(null, fillet, { temperature: { value: 150, from: 'preheat' } }).cooling).toMatchObject({ thickness: null, temperature: { from: 'preheat' } });
  });

  it('takes one factor where only one is given, and 1 for the other', () => {
    const of = (f: { f2?: number; f3?: number } | undefined) => procedureParameters({ runGroups: [{ runs: [1, 9], ...(f === undefined ? {} : { shapeFactors: f }) }] }, { run: 1 }).shapeFactors;
    expect(of({ f2: 0.9 })).toEqual({ f2: 0.9, f3: 1 });
    expect(of({ f3: 0.67 })).toEqual({ f2: 1, f3: 0.67 });
    expect(of(undefined)).toEqual({ f2: 1, f3: 1 });
  });

  it('is given while the run is welded, by the weld zone so far', () => {
    const assignment = { thickness: 24, preheat: 150 };
    const { rows } = filletRun(assignment);
    const sums = startRunSums(runParameters(assignment, fillet));
    const found: (string | null)[] = [];
    for (const [at, row] of rows.entries()) {
      addRow(sums, row.rows, row.at);
      if (at % 50 === 49) found.push(runningFigures({ sums, travelled: at + 1 }).t85?.value.toFixed(6) ?? null);
    }
    // Not before any of the weld zone is known: after 5 s, 2.0 s of arc start are past and 2.0 s may yet be crater. 11.565231 s by EN 1011-2, annex D, as in cooling-time.test.ts.
    expect(found.slice(0, 4)).toEqual(['11.565231', '11.565231', '11.565231', '11.565231']);
    const begun = startRunSums(runParameters(assignment, fillet));
    for (const row of rows.slice(0, 35)) addRow(begun, row.rows, row.at);
    expect(runningFigures({ sums: begun, travelled: 35 }).t85).toBeNull();
  });
});
