import type { JSX } from 'preact';
import { wordsOf } from '../../shared/words.js';
import { markSentence } from '../marks/mark-text.js';
import { panelWords } from './panel-words.js';
import type { StripLayout } from './strip-layout.js';
import type { PlacedAlarm } from './trace-marks.js';
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
  const say = wordsOf(panelWords);
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
