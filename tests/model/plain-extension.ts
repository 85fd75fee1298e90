import type { Moment } from './moments.js';
import { diameterOf, gramsPerMetre } from './plain-deposit.js';
import type { ExtensionSlack, PlainExtension, PlainMeans, PlainProcedure, Segment, Span } from './plain-types.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { sum } from './weighted.js';

const end = 100;
const shortest = 300;
const row = 100_000;

/** Melting rate of one wire in g/min (Wilson, Claussen, Jackson 1956): A, and mm taken to inches; 453.59237 g to the pound. */
function melting(amperes: number, diameter: number, extension: number): number {
  const [d, l] = [diameter / 25.4, extension / 25.4];
  return 453.59237 * (amperes / 1000) * (0.35 + d * d + 2.08e-7 * ((amperes * l) / (d * d)) ** 1.22);
}

/** The extension at which a wire melts at that rate, by halving; null if there is none. */
function extensionFor(rate: number, amperes: number, diameter: number): number | null {
  if (!(melting(amperes, diameter, 0) < rate)) return null;
  let [low, high] = [0, 1];
  while (melting(amperes, diameter, high) < rate) high *= 2;
  for (let halved = 0; halved < 200; halved += 1) {
    const middle = (low + high) / 2;
    if (melting(amperes, diameter, middle) < rate) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The spans of `moments` up to `length` mm; the last is cut where that is reached. */
function spansOver(moments: readonly Moment[], length: number): Span[] {
  const spans: Span[] = [];
  let rest = length;
  for (const { from, to, distance } of moments) {
    if (rest <= 1e-9) break;
    spans.push({ from, to: distance > rest ? from + ((to - from) * rest) / distance : to });
    rest -= distance;
  }
  return spans;
}

/** The same from the end backwards. */
function spansBefore(moments: readonly Moment[], length: number): Span[] {
  const turned = moments.toReversed().map((own) => ({ ...own, from: -own.to, to: -own.from }));
  return spansOver(turned, length).map(({ from, to }) => ({ from: -to, to: -from }));
}

interface Stretch {
  readonly means: { readonly current: number; readonly wireFeedSpeed: number | null };
  readonly slack: { readonly current: number; readonly feed: number };
}

/** Means over the spans, and how far they may be off where borders lie within rows. */
function stretchOf(spans: readonly Span[], segments: readonly Segment[], moments: readonly Moment[]): Stretch {
  const shared = segments.map((own) => ({ own, time: sum(spans.map((span) => Math.max(0, Math.min(span.to, own.end) - Math.max(span.from, own.start)))) })).filter(({ time }) => time > 0);
  const known = shared.filter(({ own }) => own.wireFeedSpeed !== null);
  const time = sum(shared.map((one) => one.time));
  const [from, to] = [Math.min(...spans.map((span) => span.from)), Math.max(...spans.map((span) => span.to))];
  const around = segments.filter((own) => own.end > from - 3 * row && own.start < to + 3 * row);
  const width = (values: readonly number[]): number => (values.length === 0 ? 0 : Math.max(...values) - Math.min(...values));
  const speeds = moments.filter((own) => own.to > from - 3 * row && own.from < to + 3 * row).map((own) => own.distance / (own.to - own.from));
  const uneven = Math.max(...speeds) / Math.max(Math.min(...speeds), 1e-12);
  // Each border, of the zone and of the stretch, may be half a row off, and more where the speed there is less than where the zone was cut.
  const part = Math.min(1, ((1 + spans.filter((span, i) => span.from !== spans[i - 1]?.to).length) * row * uneven) / time);
  return {
    means: {
      current: Math.abs(sum(shared.map((one) => one.own.current * one.time)) / time),
      wireFeedSpeed: known.length === 0 ? null : sum(known.map((one) => (one.own.wireFeedSpeed ?? 0) * one.time)) / sum(known.map((one) => one.time)),
    },
    slack: { current: part * width(around.map((own) => own.current)), feed: part * width(around.flatMap(({ wireFeedSpeed }) => (wireFeedSpeed === null ? [] : [wireFeedSpeed]))) },
  };
}

interface Extended {
  readonly arc: number;
  readonly assignment: Assignment | null;
  readonly procedure: PlainProcedure;
  readonly alternating: boolean;
  readonly segments: readonly Segment[];
  /** The arc's weld zone, in order. */
  readonly weld: readonly Moment[];
}

const verdict = (value: number | null, min: number, max: number): 'inside' | 'outside' | null => (value === null ? null : value < min || value > max ? 'outside' : 'inside');

export function plainExtension({ arc, assignment, procedure, alternating, segments, weld }: Extended): { extension: PlainExtension; slack: ExtensionSlack } {
  const declared = assignment?.arcs?.find((own) => own.arc === arc)?.electrodeExtension ?? null;
  const diameter = diameterOf(arc, assignment, procedure);
  const { count = 1, extension: allowed = null } = procedure.wires.get(arc) ?? {};
  const stated = {
    declared,
    ratioToDiameter: declared === null || diameter === null ? null : declared / diameter,
    procedure: allowed === null ? null : verdict(declared, allowed.min ?? Number.NEGATIVE_INFINITY, allowed.max ?? Number.POSITIVE_INFINITY),
    // Six times 3.2 is 19.2 on paper.
    trade: diameter === null ? null : verdict(declared, 6 * diameter - 1e-9, 10 * diameter + 1e-9),
  };
  const length = sum(weld.map(({ distance }) => distance));
  const nothing = { extension: { ...stated, driftEstimate: null, estimatedFrom: null }, slack: { current: 0, feed: 0, factor: 0, drift: 0 } };
  // Next to 300 mm the borders of the zone decide.
  const open = { ...nothing, slack: { ...nothing.slack, drift: Number.POSITIVE_INFINITY } };
  if (alternating || declared === null || diameter === null || length < shortest - 20) return nothing;
  if (length < shortest + 20 && Math.abs(length - shortest) > 1e-6) return open;
  if (length < shortest - 1e-6) return nothing;
  const first = stretchOf(spansOver(weld, end), segments, weld);
  const last = stretchOf(spansBefore(weld, end), segments, weld);
  if (first.means.wireFeedSpeed === null || last.means.wireFeedSpeed === null) return first.slack.feed + last.slack.feed > 0 ? open : nothing;
  const factorOf = (a: PlainMeans): number => (a.wireFeedSpeed * gramsPerMetre(diameter)) / melting(a.current / count, diameter, declared);
  const estimate = (a: PlainMeans, b: PlainMeans): number | null => {
    const found = extensionFor((b.wireFeedSpeed * gramsPerMetre(diameter)) / factorOf(a), b.current / count, diameter);
    return found === null ? null : found - declared;
  };
  const means = (of: Stretch, side = 0): PlainMeans => ({ current: of.means.current + side * of.slack.current, wireFeedSpeed: (of.means.wireFeedSpeed ?? 0) - side * of.slack.feed });
  const driftEstimate = estimate(means(first), means(last));
  // The estimate grows with the feed and falls with the current of the last stretch, and the other way round in the first: these are its ends.
  const ends = [estimate(means(first, -1), means(last, 1)), estimate(means(first, 1), means(last, -1))];
  const factor = factorOf(means(first));
  const slack = {
    current: Math.max(first.slack.current, last.slack.current), feed: Math.max(first.slack.feed, last.slack.feed),
    factor: Math.max(...[-1, 1].map((side) => Math.abs(factorOf(means(first, side)) - factor))),
  };
  if (driftEstimate === null) return { extension: nothing.extension, slack: { ...slack, drift: ends.every((own) => own === null) ? 0 : Number.POSITIVE_INFINITY } };
  const drift = Math.max(...ends.map((own) => (own === null ? Number.POSITIVE_INFINITY : Math.abs(own - driftEstimate))));
  return { extension: { ...stated, driftEstimate, estimatedFrom: { factor, first: means(first), last: means(last) } }, slack: { ...slack, drift } };
}
