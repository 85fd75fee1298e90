import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { coolingTime } from '../../../shared/weld/cooling/cooling-time.js';
import { judgedArcNames, type JudgedArcName } from '../../../shared/weld/quantities.js';
import { extremesOf, isDark } from '../../shared/trace-extremes.js';

type Columns = Trace['arcs'][number];
export const measures = ['current', 'voltage', 'travelSpeed', 'heatInput'] as const;
/** Drawn only where a run left their limits, the last one also where it is known: four traces fit a screen. */
export const furtherMeasures = [...judgedArcNames.filter((name): name is Exclude<JudgedArcName, (typeof measures)[number]> => !(measures as readonly string[]).includes(name)), 't85'] as const;
export type Measure = (typeof measures)[number] | (typeof furtherMeasures)[number];

/** What a line shows: the stored rows, the values that are compared with the limits, or another run for comparison. */
export type LineKind = 'raw' | 'judged' | 'other';

/** Mean, least and greatest value at one place of the axis; all null in a hole. */
export interface Point {
  at: number;
  mean: number | null;
  low: number | null;
  high: number | null;
}

/** Points of one arc in rising order. A carriage that turns begins another line, as passages are never mixed. */
export interface TraceLine { readonly arc: number; readonly kind: LineKind; readonly points: readonly Point[] }

/** An encoder's jitter does not count as going back: so many mm are drawn where the carriage already was (the rules of motion ignore 1 mm). */
const jitter = 1;

/** A hole at a place that has a value is drawn this much behind it, mm or s. */
const behind = 1e-6;

/** The rows of one quantity. Along the seam, the line is interrupted where an arc is out: everything it did at a stop lies on one place. */
export function traceLines(trace: Trace, measure: Measure): TraceLine[] {
  if (measure === 'currentVariation' || measure === 'voltageVariation' || measure === 't85') return [];
  const line = (arc: number, points: readonly Point[]): TraceLine => ({ arc, kind: 'raw', points });
  if (trace.axis === 'time') {
    if (measure !== 'travelSpeed') return trace.arcs.flatMap((columns) => passages(pointsOf(columns, measure), 0).map((points) => line(columns.arc, points)));
    const speed = speedOverTime(trace);
    return speed.length === 0 ? [] : [line(0, speed)];
  }
  const lit = trace.arcs.map((columns) => ({ arc: columns.arc, points: () => pointsOf(columns, measure, darkPoints(columns)) }));
  // The speed is the carriage's, and the first arc is at its place.
  const shown = measure === 'travelSpeed' ? lit.slice(0, 1).map((own) => ({ ...own, arc: 0 })) : lit;
  return shown.flatMap(({ arc, points }) => passages(points(), jitter).map((own) => line(arc, own)));
}

/** The cooling time at each point of a line of heat input, by the thickness, temperature and factors that the run's own was computed with. */
export function coolingLine({ arc, kind, points }: TraceLine, { thickness, f2, f3, temperature, temperatureFrom }: NonNullable<Run['t85']>): TraceLine {
  const conditions = { thickness, f2, f3, temperature: { value: temperature, from: temperatureFrom } };
  const at = (heat: number | null): number | null => coolingTime(heat, conditions)?.value ?? null;
  return { arc, kind, points: points.map((point) => ({ at: point.at, mean: at(point.mean), low: at(point.low), high: at(point.high) })) };
}

/** The values that are compared with limits. */
export function judgedLines(trace: Trace, measure: Measure): TraceLine[] {
  return (trace.judged ?? [])
    .filter(({ quantity }) => quantity === measure)
    .flatMap(({ arc, at, value, min, max }) => {
      const points: Point[] = [];
      at.forEach((place, index) => {
        const mean = value[index] ?? null;
        const last = points.at(-1)?.at;
        if (place !== null) points.push({ at: place, mean, low: min[index] ?? mean, high: max[index] ?? mean });
        else if (mean === null && last !== undefined) points.push({ at: last, mean: null, low: null, high: null });
      });
      return passages(points, trace.axis === 'time' ? 0 : jitter).map((own): TraceLine => ({ arc: arc ?? 0, kind: 'judged', points: own }));
    });
}

/** Which points of an arc show it out. */
function darkPoints(columns: Columns): readonly boolean[] {
  return columns.at.map((_, index) => isDark(columns, index));
}

function pointsOf(columns: Columns, measure: Exclude<Measure, 'currentVariation' | 'voltageVariation' | 't85'>, dark: readonly boolean[] = []): Point[] {
  const points: Point[] = [];
  let last: number | null = null;
  columns.at.forEach((at, index) => {
    const mean = dark[index] === true ? null : (columns[measure][index] ?? null);
    const place: number | null = at ?? last;
    // If the place is not known, there is nothing to draw except a hole behind the previous point.
    if (place === null || (at === null && mean !== null)) return;
    last = place;
    if (mean === null) points.push({ at: place, mean, low: null, high: null });
    else {
      const [low, high] = measure === 'current' || measure === 'voltage' ? extremesOf(columns, measure, index) : [mean, mean];
      points.push({ at: place, mean, low, high });
    }
  });
  return points;
}

/** The speed belongs to the carriage, so any arc that has a row at that moment will do. */
function speedOverTime(trace: Trace): Point[] {
  const speeds = new Map<number, number | null>();
  for (const { at, travelSpeed } of trace.arcs) {
    at.forEach((time, index) => { if (time !== null) speeds.set(time, speeds.get(time) ?? travelSpeed[index] ?? null); });
  }
  return [...speeds].sort(([a], [b]) => a - b).map(([at, mean]) => ({ at, mean, low: mean, high: mean }));
}

/**
 * Splits points, in the order in which they were passed, into lines of one passage each, forwards or backwards; the turning point
 * belongs to both. Points of a line rise strictly, and points at one place are merged.
 */
export function passages(points: readonly Point[], tolerance: number): Point[][] {
  const falls = (points.at(-1)?.at ?? 0) < (points[0]?.at ?? 0);
  const lines: { readonly way: 1 | -1; readonly points: Point[] }[] = [];
  let joined = 1;
  for (const point of points) {
    const line = lines.at(-1);
    const end = line?.points.at(-1);
    if (line === undefined || end === undefined) {
      lines.push({ way: falls ? -1 : 1, points: [{ ...point }] });
      continue;
    }
    const step = (point.at - end.at) * line.way;
    if (step < -tolerance) lines.push({ way: line.way === 1 ? -1 : 1, points: [{ ...end }, { ...point }] });
    else if (step > 0) line.points.push({ ...point });
    else if (point.mean !== null) {
      joined = end.mean === null ? 1 : joined + 1;
      join(end, point, point.mean, joined);
      continue;
    } else if (end.mean !== null) line.points.push({ ...point, at: end.at + line.way * behind });
    joined = 1;
  }
  return lines.map((line) => (line.way === 1 ? line.points : line.points.reverse()));
}

/** Merges the last of `count` points at one place into the point that represents them. */
function join(end: Point, point: Point, mean: number, count: number): void {
  end.mean = end.mean === null ? mean : end.mean + (mean - end.mean) / count;
  end.low = Math.min(end.low ?? mean, point.low ?? mean);
  end.high = Math.max(end.high ?? mean, point.high ?? mean);
}
