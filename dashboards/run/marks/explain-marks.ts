import type { Run } from '../../../shared/api-types/run.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { noProcedure } from '../../../shared/weld/zone.js';
import { shown } from '../../shared/units.js';
import { wordsOf } from '../../shared/words.js';
import { judgedAs } from '../panels/judged-as.js';
import { arcOffsets } from '../windows/use-windows.js';
import type { WindowsNow } from '../windows/use-windows.js';
import { markWords } from './mark-words.js';
import type { RunMark } from './run-marks.js';

/** The marks with what their rows say of why: why a stretch is not judged, and what an excursion was judged by. */
export function explainMarks(marks: readonly RunMark[], run: Pick<Run, 'judged' | 'restarts' | 'arcs'>, windows: WindowsNow): RunMark[] {
  const say = wordsOf(markWords);
  return marks.map((mark) => {
    if (mark.kind === 'zone') return { ...mark, judged: run.judged, why: whyExcluded(mark.zone, run, windows) };
    if (mark.kind !== 'excursion') return mark;
    const how = judgedAs(windows, mark.excursion.quantity);
    return how === null ? mark : { ...mark, why: [say.judgedAs(how)] };
  });
}

function whyExcluded(zone: ZoneStretch, run: Pick<Run, 'restarts' | 'arcs'>, windows: WindowsNow): string[] {
  const say = wordsOf(markWords);
  const alarm = windows.is === 'known' || windows.is === 'noGroup' ? windows.procedure.alarm : undefined;
  const time = shown('time', alarm?.ignitionTime ?? noProcedure.ignitionTime / 1);
  const length = shown('length', alarm?.ignitionLength ?? noProcedure.ignitionLength);
  switch (zone.zone) {
    case 'weld':
      return [];
    case 'runOn':
    case 'runOff':
      return [say.whyTab];
    case 'overlap':
      return [say.whyOverlap];
    case 'crater':
      return [say.whyCrater(shown('time', alarm?.craterTime ?? noProcedure.craterTime))];
    case 'ignition':
      return [say.whyStart(time, length)];
    case 'restart': {
      const missed = notPassedBefore(zone, run, arcOffsets(windows));
      return missed.length > 0 ? missed.map(say.notPassed) : [say.whyRestart(time, length)];
    }
  }
}

/** Arcs that had not come to a stretch when they went out, while the one in front had: what is behind it by its distance. */
function notPassedBefore({ fromTime, fromTravelled, toTravelled }: ZoneStretch, { restarts }: Pick<Run, 'restarts'>, offsets: Readonly<Record<number, number>>): number[] {
  if (fromTravelled === null || toTravelled === null) return [];
  const middle = (fromTravelled + toTravelled) / 2;
  const arcs = restarts.flatMap(({ arc, stoppedAt, stoppedTravelled }) => {
    const behind = offsets[arc] ?? 0;
    const missed = behind > 0 && stoppedTravelled !== null && fromTime < stoppedAt && middle > stoppedTravelled - behind && middle <= stoppedTravelled;
    return missed ? [arc] : [];
  });
  return [...new Set(arcs)];
}
