import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { Lighting } from './arc-state.js';
import type { Segment } from './plain-types.js';

interface EventRule {
  /** Samples with a longer interval than this (µs) cannot show the event. */
  readonly slowest: number;
  /** How long the condition must last, µs. */
  readonly least: number;
  readonly holds: (segment: Segment) => boolean;
}

export function extinctionRule(settings: WeldSettings): EventRule {
  return { slowest: 5_000, least: 10_000, holds: (s) => Math.abs(s.current) < settings.arcOffCurrent };
}

export function shortCircuitRule(settings: WeldSettings): EventRule {
  return { slowest: 1_000, least: 2_000, holds: (s) => Math.abs(s.voltage) < settings.shortCircuitVoltage };
}

/** Counts the events that ended, by the value that ended them, within `own`; null if a sample is too slow to show them. */
export function countEvents(lightings: readonly Lighting[], own: ReadonlySet<Segment>, rule: EventRule): number | null {
  for (const segment of own) if (segment.interval === null || segment.interval > rule.slowest) return null;
  let events = 0;
  for (const { segments } of lightings) {
    let lasted: number | null = null;
    let until = segments[0]?.start ?? 0;
    segments.forEach((segment, i) => {
      if (segment.start > until) lasted = null;
      until = segment.end;
      if (rule.holds(segment)) {
        // a state that existed when the arc was lit is not an event: the arc had not burned yet
        if (lasted === null && i === 0) lasted = Number.NEGATIVE_INFINITY;
        lasted = (lasted ?? 0) + segment.end - segment.start;
        return;
      }
      if (lasted !== null && lasted >= rule.least && own.has(segment)) events += 1;
      lasted = null;
    });
  }
  return events;
}
