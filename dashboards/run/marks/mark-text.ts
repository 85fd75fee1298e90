import type { ExcursionAnswer } from '../../../shared/api-types/excursion.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { limitText, quantityWord, shownAs, distinctText } from '../../shared/alarm-sentence.js';
import { formatRunTime } from '../../shared/times.js';
import { shown } from '../../shared/units.js';
import { capital } from '../../shared/words.js';
import { markWords } from './mark-words.js';
import { markKinds, type MarkKind, type RunMark } from './run-marks.js';

/** The name of a zone; if an arc did not pass while the others welded, the name says that. */
export function zoneWord({ zone, arcs, unpassed }: Pick<ZoneStretch, 'zone' | 'arcs' | 'unpassed'>): string {
  const say = markWords();
  if (unpassed === true) return say.without(say.and(arcs.map((arc) => say.arcInText(arc))));
  return zone === 'restart' ? say.afterRestart : say[zone];
}

export function kindWord(kind: MarkKind): string {
  return markWords()[kind];
}

/** How many of a kind. */
export function countText(kind: MarkKind, count: number): string {
  const say = markWords();
  return { zone: say.zones, restart: say.restarts, gap: say.gaps, excursion: say.excursionCount }[kind](count);
}

/** How many marks there are of each kind; if nothing was judged, excursions are not counted. */
export function marksText(marks: readonly RunMark[], judged: boolean): string {
  const say = markWords();
  return capital(say.joined(markKinds.filter((kind) => judged || kind !== 'excursion').map((kind) => countText(kind, marks.filter((mark) => mark.kind === kind).length))));
}

/** What is marked, without its code and its place: "Voltage of arc 1 above 34.0 V, highest 34.8 V". */
export function markText(mark: RunMark): string {
  const say = markWords();
  return capital(say.joined(partsOf(mark)));
}

/** The same in short: without why it is not judged, or what it was judged by. */
export function markBrief(mark: RunMark): string {
  return markText({ ...mark, why: [] });
}

/** The mark with kind, code and times, as it is read out when one steps to it. */
export function markSentence(mark: RunMark): string {
  const say = markWords();
  const [from, to] = mark.stretch.time;
  const lasts = mark.kind === 'excursion' && mark.excursion.toTime === null;
  const place = lasts ? say.since(formatRunTime(from, 1)) : say.fromTo(formatRunTime(from, 1), formatRunTime(to, 1));
  return say.joined([`${mark.code} ${kindWord(mark.kind)}`, ...partsOf(mark), place]);
}

function partsOf(mark: RunMark): string[] {
  const say = markWords();
  switch (mark.kind) {
    case 'zone': return [zoneVerdict(mark), ...mark.why];
    case 'restart': {
      const { arc, overlap, positionConfirmed } = mark.restart;
      const how = overlap === null ? say.overlapUnknown : overlap < 0 ? say.unwelded(shown('fineLength', -overlap)) : say.overlaps(shown('fineLength', overlap));
      return [say.arcOut(arc), how, ...(positionConfirmed ? [] : [say.computed])];
    }
    case 'gap': {
      const [from, to] = mark.stretch.time;
      return [say.nothingReceived(shown('time', to - from)), say.notProven];
    }
    case 'excursion': return [...excursionParts(mark.excursion), ...mark.why];
  }
}

function zoneVerdict({ zone, judged }: Extract<RunMark, { kind: 'zone' }>): string {
  const say = markWords();
  if (zone.zone === 'weld') return (judged ? say.assessed : say.unlimited)(zoneWord(zone));
  return (zone.unpassed === true ? say.heatNotAssessed : say.notAssessed)(zoneWord(zone));
}

function excursionParts({ quantity, arc, limit, worst, toTime }: ExcursionAnswer): string[] {
  const say = markWords();
  const name = shownAs(quantity);
  const what = arc === null ? quantityWord(quantity) : say.ofArc(quantityWord(quantity), arc);
  const worstText = name === null ? String(worst) : distinctText(name, worst, limit);
  const parts = worst > limit ? [say.above(what, limitText(name, limit)), say.highest(worstText)] : [say.below(what, limitText(name, limit)), say.lowest(worstText)];
  return toTime === null ? [...parts, say.lasting] : parts;
}
