import type { ReplayedRun } from './replay.js';
import type { PlainRun } from '../model/plain-types.js';
import { atPath, instant } from './check-figures.js';

const instants = new Set(['startedAt', 'endedAt', 'stoppedAt', 'restartedAt', 'fromTime', 'toTime']);
/** Fields that are compared separately, such as those that repeat the assignment, or that belong to the record and not to the figures. */
const left = new Set(['seam', 'run', 'assignment', 'assigned', 'attempt', 'extensionSlack', 'weldTimes', 'density']);

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null;

/** True for null and for objects that hold nothing else. */
const isEmpty = (value: unknown): boolean => value === null || value === undefined || (isObject(value) && Object.values(value).every(isEmpty));

/** How far a figure may be off, beyond 1e-9, by its path. */
type Slack = (path: string, parent: Readonly<Record<string, unknown>>) => number;

/**
 * Two things keep fewer digits in the program than in the model. A spread taken from sums of squares keeps half of the digits of the mean (a variance
 * of 0 comes out as about 1e-16 mean², its root as 1e-8 mean). And zones are cut out of rows of 100 ms: where a border lies within a row, the row's
 * sums are shared by time or length, which is exact while nothing changes in the row and off by at most a quarter of the row's content otherwise.
 */
function slackOf(run: PlainRun): Slack {
  const borders = 2 * run.restarts.length + 8 * run.arcs.length;
  const power = run.arcs.reduce((sum, { current, voltage }) => sum + highest(current) * highest(voltage), 0) / 1000;
  const seconds = 0.025 * borders;
  // An encoder moves on whatever speed is sent.
  const millimetres = seconds * Math.max(highest(run.travelSpeed) / 60, (run.length ?? 0) / run.arcTime);
  const { energy, length, heatInput } = run.weldZone;
  const share = (seconds * power) / Math.max(energy, 1e-9) + millimetres / Math.max(length ?? 0, 1e-9);
  const ofMean = (range: Range | null, time = 0): number => (time <= seconds ? Infinity : (seconds * 2 * highest(range)) / time);
  return (path, parent) => {
    const ofExtension = extensionSlackOf(run, path);
    if (ofExtension !== null) return ofExtension;
    if (path.endsWith('.standardDeviation')) return 1e-7 * Math.abs(typeof parent['mean'] === 'number' ? parent['mean'] : 0);
    if (path.endsWith('Variation') || path.endsWith('.ripple')) return 1e-7;
    if (/\.lengths\.(inside|excluded)$|weldZone\.length$/.test(path)) return millimetres;
    if (path.endsWith('weldZone.arcTime')) return seconds;
    if (path.endsWith('weldZone.travelSpeed')) return ofMean(run.travelSpeed, run.weldTimes.get(0));
    const [, arc = '', name = ''] = /weldZone\.arcs\[(\d+)\]\.(\w+)$/.exec(path) ?? [];
    if (name !== '') return ofMean(rangeOf(run.arcs[Number(arc)], name), run.weldTimes.get(run.arcs[Number(arc)]?.arc ?? 0));
    if (path.endsWith('weldZone.energy')) return seconds * power;
    const uncertain = length !== null && length <= millimetres;
    if (path.includes('.t85')) return uncertain ? Infinity : coolingSlack(path, run, share);
    if (!path.endsWith('weldZone.heatInput')) return 0;
    return uncertain ? Infinity : share * (heatInput ?? 0);
  };
}

/** The cooling time goes with the square of heat input at most, of which it has a `share` more or less; at the transition either form may hold. */
function coolingSlack(path: string, { t85 }: PlainRun, share: number): number {
  if (t85 === null) return 0;
  if (path.endsWith('.form')) return Math.abs(t85.thickness / t85.transitionThickness - 1) <= share ? Infinity : 0;
  const own = { value: t85.value, transitionThickness: t85.transitionThickness, heatInput: t85.heatInput }[path.slice(path.lastIndexOf('.') + 1)];
  return own === undefined ? 0 : (2 * share + share * share) * own;
}

/** What an extension is estimated from and the estimate itself; Infinity where it may be there in one and not in the other. */
function extensionSlackOf(run: PlainRun, path: string): number | null {
  const [, place, name] = /arcs\[(\d+)\]\.extension\.(driftEstimate|estimatedFrom)/.exec(path) ?? [];
  const slack = run.extensionSlack.get(run.arcs[Number(place)]?.arc ?? 0);
  if (name === undefined || slack === undefined) return null;
  if (slack.drift === Infinity || name === 'driftEstimate') return slack.drift;
  if (path.endsWith('.factor')) return slack.factor;
  return path.endsWith('.current') ? slack.current : slack.feed;
}

interface Range { readonly min: number; readonly max: number }

/** More than the feed of any random run, m/min; the model does not know its extremes. */
const feeds: Range = { min: 0, max: 2 };

/** Between which values those of an arc lie. */
function rangeOf(arc: PlainRun['arcs'][number] | undefined, name: string): Range | null {
  if (arc === undefined) return null;
  return name === 'current' ? arc.current : name === 'voltage' ? arc.voltage : feeds;
}

function highest(statistics: Range | null): number {
  return statistics === null ? 0 : Math.max(Math.abs(statistics.min), Math.abs(statistics.max));
}

/** Sorts restarts by time, since those of several arcs may be listed by arc or by time. */
function byRestart(restarts: readonly unknown[]): unknown[] {
  const at = (restart: unknown): number => instant(atPath(restart, 'restartedAt'))?.micros ?? 0;
  return [...restarts].sort((a, b) => at(a) - at(b));
}

function compare(path: string, model: unknown, actual: unknown, parent: Readonly<Record<string, unknown>>, slack: Slack): string[] {
  const differ = [`${path}: model ${JSON.stringify(model)}, program ${JSON.stringify(actual)}`];
  const name = path.slice(path.lastIndexOf('.') + 1);
  if (path.includes('.extension.') && slack(path, parent) === Infinity) return [];
  // A feed that was sent next to a zone may be within the program's last row of it.
  const isOfBorder = /weldZone\.arcs\[\d+\]\.wireFeedSpeed$/.test(path);
  if (model === null) return isEmpty(actual) || isOfBorder || slack(path, parent) === Infinity ? [] : differ;
  if (instants.has(name)) {
    // a run that may still continue has no end yet
    if (name === 'endedAt' && actual === null) return [];
    const found = instant(actual);
    return found !== null && typeof model === 'number' && Math.abs(found.micros - model) <= found.within ? [] : differ;
  }
  if (typeof model === 'number') {
    if (typeof actual !== 'number') return slack(path, parent) === Infinity ? [] : differ;
    return Math.abs(model - actual) <= 1e-9 * Math.max(1, Math.abs(model), Math.abs(actual)) + slack(path, parent) ? [] : differ;
  }
  if (Array.isArray(model)) {
    if (!Array.isArray(actual) || actual.length !== model.length) return differ;
    const listed = path.endsWith('.restarts') ? byRestart(actual) : (actual as unknown[]);
    return model.flatMap((entry, i) => compare(`${path}[${i}]`, entry, listed[i], parent, slack));
  }
  if (isObject(model)) {
    if (!isObject(actual)) return differ;
    return Object.entries(model).flatMap(([key, value]) => compare(`${path}.${key}`, value, actual[key], model, slack));
  }
  return model === actual || slack(path, parent) === Infinity ? [] : differ;
}

/** Cells whose times are those of samples, which are added in another order. */
function compareDensities(path: string, model: PlainRun['density'], program: ReplayedRun['density']): string[] {
  return [...new Set([...model.keys(), ...Object.keys(program).map(Number)])].flatMap((arc) => {
    const expected = model.get(arc) ?? new Map<string, number>();
    const found = new Map((program[arc] ?? []).map(([volts, amperes, seconds]) => [`${volts} ${amperes}`, seconds]));
    return [...new Set([...expected.keys(), ...found.keys()])].flatMap((cell) => {
      const [own = 0, other = 0] = [expected.get(cell), found.get(cell)];
      return Math.abs(own - other) <= 1e-9 * Math.max(1, own) ? [] : [`${path}.density of arc ${arc}, ${cell}: model ${own}, program ${other}`];
    });
  });
}

/** The differences between the model's runs and the program's, a line each. */
export function compareRuns(model: readonly PlainRun[], replayed: readonly Pick<ReplayedRun, 'assignment' | 'figures' | 'density'>[]): string[] {
  const name = (assignment: { seam: string; run: number } | null): string => (assignment === null ? 'unassigned' : `${assignment.seam}/${assignment.run}`);
  const named = model.map((run) => name(run.assignment)).join(', ');
  const found = replayed.map((run) => name(run.assignment)).join(', ');
  if (named !== found) return [`runs: model ${named}; program ${found}`];
  return model.flatMap((run, i) => {
    const figures = { ...replayed[i]?.figures } as Readonly<Record<string, unknown>>;
    const slack = slackOf(run);
    const differ = Object.entries(run).flatMap(([key, value]) => (left.has(key) ? [] : compare(`runs[${i}].${key}`, value, figures[key], { ...run }, slack)));
    return [...differ, ...compareDensities(`runs[${i}]`, run.density, replayed[i]?.density ?? {})];
  });
}
