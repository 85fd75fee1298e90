import type { ExcursionAnswer } from '../../../shared/api-types/excursion.js';
import type { Run } from '../../../shared/api-types/run.js';
import type { ZoneStretch } from '../../../shared/api-types/trace.js';
import { inDegrees, secondsFrom, stretchOf, type Stretch } from '../run-places.js';

interface Marked {
  /** The letter of its kind with a number, used by the list and the drawing: Z zone, R restart, G data gap, X excursion. */
  readonly code: string;
  readonly stretch: Stretch;
  /** Why it is not judged, or what it was judged by, in words. */
  readonly why: readonly string[];
}

export type RunMark = Marked &
  (
    | { readonly kind: 'zone'; readonly zone: ZoneStretch; readonly judged: boolean }
    | { readonly kind: 'restart'; readonly restart: Run['restarts'][number] }
    | { readonly kind: 'gap'; readonly gap: Run['dataGaps'][number] }
    | { readonly kind: 'excursion'; readonly excursion: ExcursionAnswer }
  );

export type MarkKind = RunMark['kind'];

/** In the order of attention. */
export const markKinds: readonly MarkKind[] = ['excursion', 'restart', 'gap', 'zone'];

interface MarkInput {
  readonly run: Pick<Run, 'startedAt' | 'assignment' | 'restarts' | 'dataGaps'>;
  readonly zones: readonly ZoneStretch[];
  /** The oldest first. */
  readonly excursions: readonly ExcursionAnswer[];
  /** mm that each arc runs behind arc 1, by the procedure. */
  readonly offsets: Readonly<Record<number, number>>;
}

/** Everything that happened along a run, in the order in which it began. */
export function runMarks({ run, zones, excursions, offsets }: MarkInput): RunMark[] {
  const marks: RunMark[] = [
    ...zones.map((zone, at): RunMark => ({ kind: 'zone', code: `Z${at + 1}`, zone, judged: true, why: [], stretch: stretchOf(run, [zone.fromTime, zone.toTime], [zone.fromTravelled, zone.toTravelled]) })),
    ...run.restarts.map((restart, at): RunMark => ({
      kind: 'restart', code: `R${at + 1}`, restart, why: [],
      stretch: stretchOf(run, [restart.stoppedAt, restart.restartedAt], [restart.stoppedTravelled, restart.restartedTravelled], offsets[restart.arc] ?? 0),
    })),
    ...run.dataGaps.map((gap, at): RunMark => ({ kind: 'gap', code: `G${at + 1}`, gap, why: [], stretch: stretchOf(run, [gap.fromTime, gap.toTime], [gap.fromTravelled, gap.toTravelled]) })),
    ...excursions.map((excursion, at): RunMark => ({ kind: 'excursion', code: `X${at + 1}`, excursion, why: [], stretch: excursionStretch(run, excursion) })),
  ];
  return marks.sort((a, b) => a.stretch.time[0] - b.stretch.time[0] || (a.stretch.time[1] - b.stretch.time[1]));
}

/** An excursion that lasts is shown from its beginning on; the service knows the arc's place on the seam. */
function excursionStretch(run: MarkInput['run'], { fromTime, toTime, fromTravelled, toTravelled, fromSeamPosition, toSeamPosition }: ExcursionAnswer): Stretch {
  const from = secondsFrom(run, fromTime);
  return {
    time: [from, toTime === null ? from : secondsFrom(run, toTime)],
    travelled: [fromTravelled, toTravelled ?? fromTravelled],
    seamPosition: [fromSeamPosition, toSeamPosition ?? fromSeamPosition],
    ...inDegrees(run, [fromTravelled, toTravelled ?? fromTravelled]),
  };
}

/** The mark that a step in a direction leads to; without a current mark it is the first or the last. After the last mark comes the first. */
export function steppedMark(count: number, now: number | null, way: 1 | -1): number | null {
  if (count === 0) return null;
  if (now === null || now >= count) return way === 1 ? 0 : count - 1;
  return (now + way + count) % count;
}
