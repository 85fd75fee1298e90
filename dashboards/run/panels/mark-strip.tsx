import type { JSX } from 'preact';
import { markSentence, zoneWord } from '../marks/mark-text.js';
import { lanesOf } from './mark-lanes.js';
import { panelWords } from './panel-words.js';
import type { PlacedAlarm, PlacedMark } from './trace-marks.js';
import { laneRem, remSize, sideRem } from './type-scale.js';

interface MarkStripProps {
  readonly layout: StripLayout;
  readonly chosen: number | null;
  readonly width: number;
  readonly onMark: (number: number) => void;
  readonly onAlarm: (alarm: PlacedAlarm) => void;
}

/**
 * Lanes above the traces, over the same axis: zones, events and alarms. The lists below say the same in words, and
 * stepping moves through both, so this is only for eyes and mouse.
 */
export function MarkStrip({ layout, chosen, width, onMark, onAlarm }: MarkStripProps): JSX.Element {
  const say = panelWords();
  const rem = remSize();
  const [lane, side, low] = [laneRem * rem, sideRem * rem, 0.3125 * rem];
  const { blocks, alarms, markLanes, x } = layout;
  const alarmTop = lane * (1 + markLanes);
  return (
    <svg class="strip" width={width} height={alarmTop + (alarms.length > 0 ? lane : 0) + 2} aria-hidden="true" focusable="false">
      <text class="lane" x={side - 8} y={lane - low}>{say.zoneLane}</text>
      <text class="lane" x={side - 8} y={2 * lane - low}>{say.events}</text>
      {alarms.length > 0 && <text class="lane" x={side - 8} y={alarmTop + lane - low}>{say.alarms}</text>}
      {blocks.map(({ placed: { mark, number }, left, width: thick, lane: at, name, inside }) => (
        <g key={mark.code} class={`block block-${mark.kind === 'zone' ? `zone-${mark.zone.unpassed === true ? 'unpassed' : mark.zone.zone}` : mark.kind}${number === chosen ? ' chosen' : ''}`} onClick={() => { onMark(number); }}>
          <title>{markSentence(mark)}</title>
          <rect x={left} y={at * lane + 1} width={thick} height={lane - 3} />
          {name !== null && <text class={inside ? 'inside' : undefined} x={inside ? left + 4 : left + thick + 3} y={(at + 1) * lane - low}>{name}</text>}
        </g>
      ))}
      {alarms.map(({ placed, left }) => (
        <g key={placed.alarm.id} class={placed.stands ? 'alarm-tick stands' : 'alarm-tick'} onClick={() => { onAlarm(placed); }}>
          <title>{placed.text}</title>
          <path d={`M${left} ${alarmTop + 3}l${0.375 * rem} ${lane - 7}h-${0.75 * rem}z`} />
          {placed.acknowledged !== null && <path class="acknowledged" d={`M${x(placed.acknowledged) - 4} ${alarmTop + lane / 2}l3 4l6 -8`} />}
        </g>
      ))}
    </svg>
  );
}

/** A character's width, so roughly that a name which does not fit is left out; rem. */
const letterRem = 0.47;
const wideLetterRem = 0.81;
/** A mark that is shorter is drawn so wide, CSS px, to be seen and pressed. */
const leastWidth = 4;

interface StripBlock {
  readonly placed: PlacedMark;
  readonly left: number;
  readonly width: number;
  /** From the top; zones have the first to themselves. */
  readonly lane: number;
  /** The label, and whether it is inside the block; null if there is none. */
  readonly name: string | null;
  readonly inside: boolean;
}

interface StripLayout {
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

function textWidth(text: string): number {
  return Array.from(text).reduce((sum, own) => sum + (own > '\u2e7f' ? wideLetterRem : letterRem), 0) * remSize();
}
