import { plantZone } from './service-facts.js';

/** Date and time of day as clocks in the plant show it. */
export interface PlantTime {
  readonly year: number;
  /** From 1 on. */
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known !== undefined) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone, calendar: 'gregory', numberingSystem: 'latn', hourCycle: 'h23', year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric', second: 'numeric',
  });
  formats.set(zone, made);
  return made;
}

/** What clocks of a zone show at a time, ms since 1970. */
export function plantTime(time: number, zone: string = plantZone.value): PlantTime {
  const parts: Record<string, number> = {};
  for (const { type, value } of formatOf(zone).formatToParts(time)) parts[type] = Number(value);
  const { year = 1970, month = 1, day = 1, hour = 0, minute = 0, second = 0 } = parts;
  return { year, month, day, hour, minute, second };
}

/** Minutes by which clocks of the zone are ahead of UTC at a time, ms since 1970. */
export function offsetAt(time: number, zone: string = plantZone.value): number {
  const { year, month, day, hour, minute, second } = plantTime(time, zone);
  return Math.round((Date.UTC(year, month - 1, day, hour, minute, second) - Math.floor(time / 1000) * 1000) / 60_000);
}

/**
 * The time, ms since 1970, at which clocks of the zone show that date and time of day. If there are two such times (clocks set back), the first; if there is
 * none (clocks set forward), the time as long after the change as the given one lies behind it.
 */
export function timeInPlant({ year, month, day, hour, minute, second }: PlantTime, zone: string = plantZone.value): number {
  const shown = Date.UTC(year, month - 1, day, hour, minute, second);
  const oneDay = 86_400_000;
  const before = shown - offsetAt(shown - oneDay, zone) * 60_000;
  const after = shown - offsetAt(shown + oneDay, zone) * 60_000;
  if (offsetAt(before, zone) * 60_000 === shown - before) return before;
  return offsetAt(after, zone) * 60_000 === shown - after ? after : before;
}
