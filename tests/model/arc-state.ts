import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { Gap, Segment } from './plain-types.js';

/** One lighting of an arc; `out` is null if the arc still burns at the end of the data. */
export interface Lighting {
  readonly lit: number;
  readonly out: number | null;
  readonly segments: readonly Segment[];
}

export interface ArcState {
  readonly lightings: readonly Lighting[];
  readonly gaps: readonly Gap[];
}

interface Judged {
  readonly current: number;
  readonly voltage: number;
}

/** Readings are judged one by one, block samples by the RMS of their row; where a hole or a reading cuts a row of samples, each part by its own. */
function judge(segments: readonly Segment[]): Judged[] {
  const rows: { time: number; current: number; voltage: number }[] = [];
  const rowOf = segments.map((segment, i) => {
    if (segment.interval === null) return null;
    const before = segments[i - 1];
    if (before?.interval == null || before.row !== segment.row || before.end < segment.start) rows.push({ time: 0, current: 0, voltage: 0 });
    return rows.length - 1;
  });
  segments.forEach((segment, i) => {
    const row = rows[rowOf[i] ?? -1];
    if (row === undefined) return;
    const time = segment.end - segment.start;
    row.time += time;
    row.current += segment.current ** 2 * time;
    row.voltage += segment.voltage ** 2 * time;
  });
  return segments.map((segment, i) => {
    const row = rows[rowOf[i] ?? -1];
    if (row === undefined) return { current: Math.abs(segment.current), voltage: Math.abs(segment.voltage) };
    return { current: Math.sqrt(row.current / row.time), voltage: Math.sqrt(row.voltage / row.time) };
  });
}

/**
 * When one arc was lit and when it went out, and where it burned without data. `endsArc` says whether a gap between two segments is too long, spans a
 * change of assignment, or spans a boot that does not continue.
 */
export function judgeArc(
  segments: readonly Segment[],
  settings: WeldSettings,
  endsArc: (before: Segment, after: Segment) => boolean,
): ArcState {
  const judged = judge(segments);
  const found: { lit: number; out: number | null }[] = [];
  let gaps: Gap[] = [];
  let open: { lit: number } | null = null;
  let onSince: number | null = null;
  let onFor = 0;
  let offSince: number | null = null;
  let offFor = 0;
  const goOut = (lit: number, out: number): void => {
    found.push({ lit, out });
    gaps = gaps.filter((gap) => gap.from < out);
    open = null;
    onSince = null;
    offSince = null;
  };
  segments.forEach((segment, i) => {
    const before = segments[i - 1];
    let hole: Gap | null = null;
    if (before !== undefined && (segment.start > before.end || segment.broken)) {
      if (endsArc(before, segment)) {
        if (open !== null) goOut(open.lit, before.end);
        onSince = null;
      } else if (segment.start > before.end) {
        // a lighting not yet established does not continue through a gap
        onSince = null;
        hole = { arc: segment.arc, from: before.end, to: segment.start, index: before.index };
      }
    }
    const { current, voltage } = judged[i] ?? { current: Number.NaN, voltage: Number.NaN };
    const time = segment.end - segment.start;
    if (open !== null) {
      if (hole !== null) gaps.push(hole);
      if (current < settings.arcOffCurrent) {
        if (offSince === null) {
          // if the first item after a gap shows the arc off, the arc went out at the end of what came before the gap
          offSince = hole === null ? segment.start : hole.from;
          offFor = 0;
        }
        offFor += time;
        if (offFor >= settings.arcOffFor) goOut(open.lit, offSince);
      } else offSince = null;
      return;
    }
    if (current >= settings.arcOnCurrent && voltage >= settings.arcOnVoltage) {
      if (onSince === null) {
        onSince = segment.start;
        onFor = 0;
      }
      onFor += time;
      if (onFor >= settings.arcOnFor) {
        open = { lit: onSince };
        offSince = null;
      }
    } else onSince = null;
  });
  const last = open as { lit: number } | null;
  if (last !== null) found.push({ lit: last.lit, out: null });
  const lightings = found.map(({ lit, out }) => ({
    lit,
    out,
    segments: segments.filter((segment) => segment.start >= lit && (out === null || segment.start < out)),
  }));
  return { lightings, gaps };
}
