import type { Run } from '../../../shared/api-types/run.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { noProcedure } from '../../../shared/weld/procedure/zone.js';
import { shown } from '../../shared/units.js';
import { judgedAs } from '../panels/judged-as.js';
import { arcOffsets, type WindowsNow } from '../windows/use-windows.js';
import { markWords } from './mark-words.js';
import type { RunMark } from './run-marks.js';

/** The marks with reasons for their rows: why a stretch is not judged, and how an excursion was judged. */
export function explainMarks(marks: readonly RunMark[], run: Pick<Run, 'judged' | 'arcs'>, windows: WindowsNow): RunMark[] {
  const say = markWords();
  return marks.map((mark) => {
    if (mark.kind === 'zone') return { ...mark, judged: run.judged, why: whyExcluded(mark.zone, run, windows) };
    if (mark.kind !== 'excursion') return mark;
    const how = judgedAs(windows, mark.excursion.quantity);
    return how === null ? mark : { ...mark, why: [say.judgedAs(how)] };
  });
}

function whyExcluded(zone: ZoneStretch, run: Pick<Run, 'arcs'>, windows: WindowsNow): string[] {
  const say = markWords();
  const arcs = zone.arcs.map((arc) => say.arcInText(arc));
  if (zone.unpassed === true) return arcs.length === 0 ? [] : [whyUnpassed(zone.zone, say.and(arcs), arcs.length > 1)];
  // With a single arc there is no question which one.
  const ofArcs = run.arcs.length > 1 && arcs.length > 0 ? say.and(arcs) : null;
  const alarm = windows.is === 'known' || windows.is === 'noGroup' ? windows.procedure.alarm : undefined;
  const time = shown('time', alarm?.ignitionTime ?? noProcedure.ignitionTime);
  const length = shown('length', alarm?.ignitionLength ?? noProcedure.ignitionLength);
  switch (zone.zone) {
    case 'weld': return [];
    case 'runOn': return [say.whyTab, ...(ofArcs === null ? [] : [say.tabUntil(arcsByDistance(zone, windows).at(-1) ?? 1)])];
    case 'runOff': return [say.whyTab, ...(ofArcs === null ? [] : [say.tabFrom(arcsByDistance(zone, windows)[0] ?? 1)])];
    case 'overlap': return [say.whyOverlap, ...(ofArcs === null ? [] : [say.tabFrom(arcsByDistance(zone, windows)[0] ?? 1)])];
    case 'crater': return [say.whyCrater(shown('time', alarm?.craterTime ?? noProcedure.craterTime), ofArcs)];
    case 'ignition': return [say.whyStart(time, length, ofArcs)];
    case 'restart': return [say.whyRestart(time, length, ofArcs)];
  }
}

/** Why an arc did not pass where the others were welding. */
function whyUnpassed(zone: ZoneStretch['zone'], arcs: string, several: boolean): string {
  const say = markWords();
  switch (zone) {
    case 'ignition': return say.notStarted(arcs, several);
    case 'crater': return say.wentOut(arcs);
    default: return say.notPassed(arcs, several);
  }
}

/** The arcs of a zone from the front to the rear. */
function arcsByDistance({ arcs }: ZoneStretch, windows: WindowsNow): number[] {
  const offsets = arcOffsets(windows);
  return [...arcs].sort((a, b) => (offsets[a] ?? 0) - (offsets[b] ?? 0) || a - b);
}
