import type { CaseFile } from '../../replay/case-format.js';

const arc = { arc: 1, current: 600, wireFeedSpeed: 1.2 } as const;
const arcs = { every: 100, travelSpeed: 600 } as const;

/** Of the run that was being welded when the process was killed: more than a minute, so that of its rows some are packed and some are plain; invented values. */
export const openCase: CaseFile = {
  title: 'A run that goes on',
  source: 'Invented: 600 A, 30 V, 600 mm/min = 10 mm/s: 1.8 kJ/mm; 36 V from 20 s to 25 s, above the limit of 34 V.',
  stretches: [
    { from: 0, to: 19.9, ...arcs, arcs: [{ ...arc, voltage: 30 }] },
    { from: 20, to: 24.9, ...arcs, arcs: [{ ...arc, voltage: 36 }] },
    { from: 25, to: 79.9, ...arcs, arcs: [{ ...arc, voltage: 30 }] },
  ],
  procedures: [{ id: 'W-open', process: '121', runGroups: [{ runs: [1, 9], heatInput: { max: 2.5 }, arcs: [{ arc: 1, voltage: { max: 34 } }] }] }],
  assignments: [{ after: 'start', assignment: { seam: 'S-open', run: 1, procedure: 'W-open', operator: 'op-1', fluxLot: 'F-1' } }],
};

/** A run that was decided before a reading that had been lost at 10 s arrived: that reading goes onto its list of late items. */
export const lateCase: CaseFile = {
  title: 'A reading that comes when the run is decided',
  source: 'Invented: 600 A, 30 V, 600 mm/min for 30 s.',
  stretches: [
    { from: 0, to: 29.9, ...arcs, arcs: [{ ...arc, voltage: 30 }] },
    { from: 30, to: 32.9, every: 100, travelSpeed: 0, arcs: [{ arc: 1, current: 0, voltage: 0 }] },
  ],
  lost: [{ from: 10, to: 10.05 }],
  assignments: [{ after: 'start', assignment: { seam: 'S-late', run: 1 } }, { after: 'end', assignment: null }],
};
