import { describe, expect, it } from 'vitest';
import { judgedZones } from '../../shared/weld/run/judged-zones.js';
import { replay } from '../replay/replay.js';
import { addRow, passAllRows, startRunSums } from '../../shared/weld/run/run-sums.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { runParameters } from '../../shared/weld/procedure/zone.js';
import { carriageEvents } from '../replay/carriage-events.js';
import { judgedCase, programProcedures } from '../replay/case-procedures.js';
import { caseStart } from '../replay/expand-case.js';
import type { CaseFile } from '../replay/case-format.js';
import { readCases } from '../replay/read-cases.js';

/** The zones of a case's one run as `zone from-to arcs`, s from its start; `!` where an arc did not pass. */
function zonesOf(file: CaseFile): string[] {
  const { messages, applied } = judgedCase(file);
  const procedures = programProcedures(applied);
  const start = caseStart(file);
  const [run] = replay(carriageEvents(messages, start), { settings: defaultWeldSettings, procedures });
  const own = procedures.get(run?.assignment?.procedure ?? '');
  if (run === undefined || own === undefined) throw new Error('a run by a procedure expected');
  const sums = startRunSums(runParameters(run.assignment, own));
  for (const { rows, at } of run.rows) addRow(sums, rows, at);
  passAllRows(sums, false);
  const seconds = (time: number): number => Math.round((time / 1000 - start) / 100) / 10;
  return judgedZones(sums).map(({ zone, from, to, arcs, unpassed }) => `${zone} ${seconds(from)}-${seconds(to)} ${arcs.join('+')}${unpassed === true ? '!' : ''}`.trim());
}

function golden(name: string): CaseFile {
  const found = readCases().find((own) => own.name === name);
  if (found === undefined) throw new Error(`no case ${name}`);
  return found.file;
}

// Worked by hand from the arithmetic in the cases' own `source`: 10 mm/s, so that the s at which arc 1 was at a place are a tenth of its mm.
describe('zones', () => {
  it('name the arcs that were in them, and those that did not pass where the others welded', () => {
    expect(zonesOf(golden('101-trailing-arc-late-and-lost'))).toEqual([
      'ignition 0-2 1', 'ignition 2-4 2!', 'weld 4-10', 'ignition 10-12 2', 'weld 12-34', 'restart 34-38 2!', 'crater 38-40 2', 'restart 40-44 2!',
      'weld 44-50', 'restart 50-52 2', 'weld 52-64', 'crater 64-68 2!', 'crater 68-70 1+2',
    ]);
    // Out at 30.0 s at 300 mm, where arc 2 had come to 240 mm; lit again 15 mm back at 33.0 s; out for good at 63.0 s.
    expect(zonesOf(golden('100-tandem-stopped-and-lit-again'))).toEqual([
      'ignition 0-2 1+2', 'weld 2-24', 'restart 24-28 2!', 'crater 28-30 1+2', 'restart 33-35 1+2', 'weld 35-57', 'crater 57-61 2!', 'crater 61-63 1+2',
    ]);
  });

  it('name each arc that had not started, or had gone out, where a third one starts when two have welded', () => {
    const stretch = (from: number, to: number, amperes: readonly number[]) =>
      ({ from, to: to - 0.1, every: 100, travelSpeed: 600, arcs: amperes.map((current, at) => ({ arc: at + 1, current, voltage: current === 0 ? 0 : 30 })) });
    // Arc 2, 50 mm behind, from place 150 to 550; arc 3, 100 mm behind, from 300 to 500; arc 1 from 0 to 600.
    expect(zonesOf({
      title: '', source: '',
      stretches: [stretch(0, 20, [600, 0, 0]), stretch(20, 40, [600, 500, 0]), stretch(40, 60, [600, 500, 500]), stretch(60, 63, [0, 0, 0])],
      procedures: [{ id: 'W', runGroups: [{ runs: [1, 9], arcs: [{ arc: 1 }, { arc: 2, offset: 50 }, { arc: 3, offset: 100 }], heatInput: { min: 1 } }] }],
      assignments: [{ after: 'start', assignment: { seam: 'S', run: 1, procedure: 'W' } }, { after: 'end', assignment: null }],
    })).toEqual([
      'ignition 0-2 1', 'ignition 2-15 2+3!', 'ignition 15-20 3!', 'ignition 20-22 2', 'ignition 22-30 3!', 'weld 30-40', 'ignition 40-42 3', 'weld 42-50',
      'crater 50-55 3!', 'crater 55-58 2+3!', 'crater 58-60 1+2+3',
    ]);
  });
});
