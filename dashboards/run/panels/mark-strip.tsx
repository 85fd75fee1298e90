import type { JSX } from 'preact';
import { wordsOf } from '../../shared/words.js';
import { zoneWord } from '../marks/mark-text.js';
import { panelWords } from './panel-words.js';
import type { PlacedMark } from './trace-marks.js';
import { endRem, remSize, sideRem } from './type-scale.js';

interface MarkStripProps {
  readonly marks: readonly PlacedMark[];
  readonly chosen: number | null;
  readonly places: readonly [number, number];
  readonly width: number;
  readonly onMark: (number: number) => void;
}

/** Height of a lane, and a character's width, so roughly that a name which does not fit is left out; rem. */
const laneRem = 1.25;
const letterRem = 0.47;
const wideLetterRem = 0.81;

/**
 * Two lanes above the traces, over the same axis: zones, and what happened in them. The list below says the same in words, and
 * steps go through both, so this is for eyes and mouse alone.
 */
export function MarkStrip({ marks, chosen, places, width, onMark }: MarkStripProps): JSX.Element {
  const say = wordsOf(panelWords);
  const rem = remSize();
  const [lane, sideWidth, endWidth, low] = [laneRem * rem, sideRem * rem, endRem * rem, 0.375 * rem];
  const wide = Math.max(1, width - sideWidth - endWidth);
  const x = (at: number): number => sideWidth + (Math.min(1, Math.max(0, (at - places[0]) / (places[1] - places[0])))) * wide;
  const seen = marks.filter(({ from, to }) => to >= places[0] && from <= places[1]);
  let written = 0;
  return (
    <svg class="strip" width={width} height={lane * 2 + 2} aria-hidden="true" focusable="false">
      <text class="lane" x={sideWidth - 8} y={lane - low}>{say.zoneLane}</text>
      <text class="lane" x={sideWidth - 8} y={2 * lane - low}>{say.markLane}</text>
      {seen.map(({ mark, number, from, to }) => {
        const left = x(from);
        const thick = Math.max(3, x(to) - left);
        const top = mark.kind === 'zone' ? 0 : lane;
        const name = mark.kind === 'zone' ? zoneWord(mark.zone.zone) : mark.code;
        const inside = thick > textWidth(name) + 4;
        const at = inside ? left + 4 : left + thick + 3;
        const shows = mark.kind === 'zone' ? inside : at >= written && at + textWidth(name) < width;
        if (mark.kind !== 'zone' && shows) written = at + textWidth(name);
        return (
          <g key={mark.code} class={`block block-${mark.kind === 'zone' ? `zone-${mark.zone.zone}` : mark.kind}${number === chosen ? ' chosen' : ''}`} onClick={() => { onMark(number); }}>
            <rect x={left} y={top + 1} width={thick} height={lane - 3} />
            {shows && <text class={inside ? 'inside' : undefined} x={at} y={top + lane - low}>{name}</text>}
          </g>
        );
      })}
    </svg>
  );
}

function textWidth(text: string): number {
  return Array.from(text).reduce((sum, own) => sum + (own > '\u2e7f' ? wideLetterRem : letterRem), 0) * remSize();
}
