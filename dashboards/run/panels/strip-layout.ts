import { zoneWord } from '../marks/mark-text.js';
import { lanesOf } from './mark-lanes.js';
import type { PlacedAlarm, PlacedMark } from './trace-marks.js';
import { remSize, sideRem } from './type-scale.js';

/** A character's width, so roughly that a name which does not fit is left out; rem. */
const letterRem = 0.47;
const wideLetterRem = 0.81;
/** A mark that is shorter is drawn so wide, CSS px, to be seen and pressed. */
const leastWidth = 4;

export interface StripBlock {
  readonly placed: PlacedMark;
  readonly left: number;
  readonly width: number;
  /** From the top; zones have the first to themselves. */
  readonly lane: number;
  /** The label, and whether it is inside the block; null if there is none. */
  readonly name: string | null;
  readonly inside: boolean;
}

export interface StripLayout {
  readonly blocks: readonly StripBlock[];
  readonly alarms: readonly { readonly placed: PlacedAlarm; readonly left: number }[];
  /** Number of lanes for marks; the lane of zones is above them and that of alarms, if there are any, below. */
  readonly markLanes: number;
  readonly x: (at: number) => number;
}

interface StripInput {
  readonly marks: readonly PlacedMark[];
  readonly alarms: readonly PlacedAlarm[];
  /** The part of the axis that is seen. */
  readonly places: readonly [number, number];
  /** CSS px of the strip, and of its margin on the right. */
  readonly width: number;
  readonly end: number;
}

/** Lays out the strip above the traces: marks that overlap are placed below one another. */
export function stripLayout({ marks, alarms, places, width, end }: StripInput): StripLayout {
  const side = sideRem * remSize();
  const wide = Math.max(1, width - side - end);
  const x = (at: number): number => side + Math.min(1, Math.max(0, (at - places[0]) / (places[1] - places[0]))) * wide;
  const seen = marks
    .filter(({ from, to }) => to >= places[0] && from <= places[1])
    .map((placed) => {
      const left = x(placed.from);
      const own = Math.max(leastWidth, x(placed.to) - left);
      const name = placed.mark.kind === 'zone' ? zoneWord(placed.mark.zone) : placed.mark.code;
      return { placed, left, width: own, name, room: textWidth(name), inside: own > textWidth(name) + 6 };
    });
  const marked = seen.filter(({ placed }) => placed.mark.kind !== 'zone');
  const lanes = lanesOf(marked.map(({ left, width: own, room, inside }) => ({ left, right: left + own + (inside ? 0 : room + 4) + 2 })));
  const blocks = seen.map((own): StripBlock => {
    const { placed, left, width: thick, inside, name } = own;
    const place = lanes[marked.indexOf(own)];
    const shows = place === undefined ? inside : !place.crowded;
    return { placed, left, width: thick, lane: place === undefined ? 0 : 1 + place.lane, name: shows ? name : null, inside };
  });
  return {
    blocks,
    alarms: alarms.filter(({ at }) => at >= places[0] && at <= places[1]).map((placed) => ({ placed, left: x(placed.at) })),
    markLanes: Math.max(1, ...lanes.map(({ lane }) => lane + 1)),
    x,
  };
}

export function textWidth(text: string): number {
  return Array.from(text).reduce((sum, own) => sum + (own > '\u2e7f' ? wideLetterRem : letterRem), 0) * remSize();
}
