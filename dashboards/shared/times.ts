import { formatNumber, noValue } from './units.js';
import { offsetAt, plantTime } from './plant-time.js';
import { plantZone } from './service-facts.js';
import { sharedWords } from './shared-words.js';

/** An age or a span in words of one or two units, never negative; ms. A number is never parted from its unit. */
export function formatAge(ms: number): string {
  const seconds = Math.max(0, ms) / 1000;
  if (seconds < 9.95) return `${formatNumber(seconds, 1)}\u00a0s`;
  if (seconds < 119.5) return `${formatNumber(seconds, 0)}\u00a0s`;
  return formatMinutes(Math.floor(seconds / 60));
}

/** Whole minutes as minutes, hours or days. */
export function formatMinutes(minutes: number): string {
  if (minutes < 60) return `${minutes}\u00a0min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours}\u00a0h` : `${hours}\u00a0h ${minutes % 60}\u00a0min`;
  return sharedWords().days(Math.floor(hours / 24));
}

/** Time of day in the plant: 14:03:07. */
export function formatClock(time: string | number | null): string {
  const at = timeOf(time);
  if (at === null) return noValue;
  const { hour, minute, second } = plantTime(at);
  return [hour, minute, second].map(two).join(':');
}

/** Hours and minutes of the day in the plant: 14:03. */
export function formatHour(time: string | number | null): string {
  const clock = formatClock(time);
  return clock === noValue ? clock : clock.slice(0, 5);
}

/** Date in the plant: 2026-11-25. */
export function formatDate(time: string | number | null): string {
  const at = timeOf(time);
  if (at === null) return noValue;
  const { year, month, day } = plantTime(at);
  return `${year}-${two(month)}-${two(day)}`;
}

/** Date and time of day in the plant: 2026-11-25 14:03:07. */
export function formatDateTime(time: string | number | null): string {
  return timeOf(time) === null ? noValue : `${formatDate(time)} ${formatClock(time)}`;
}

/** Time of day, with its date if that is not today in the plant. */
export function formatMoment(time: string | number | null, today: number): string {
  return formatDate(time) === formatDate(today) ? formatClock(time) : formatDateTime(time);
}

/** The zone that times are shown in, by name and with its offset at that time: Europe/Berlin, UTC+01:00. */
export function formatZone(time: string | number, zone = plantZone.value): string {
  const minutes = offsetAt(timeOf(time) ?? 0, zone);
  const offset = `UTC${minutes < 0 ? '\u2212' : '+'}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
  return zone === 'UTC' || zone === 'Etc/UTC' ? 'UTC' : `${zone.replaceAll('_', ' ')}, ${offset}`;
}

/** s from the start of a run as minutes and seconds, 5:12.4; hours lead where there are any. */
export function formatRunTime(seconds: number, decimals: number): string {
  const scale = 10 ** decimals;
  const parts = Math.round(Math.abs(seconds) * scale);
  const whole = Math.floor(parts / scale);
  const rest = (whole % 60).toString().padStart(2, '0') + (decimals === 0 ? '' : `.${String(parts % scale).padStart(decimals, '0')}`);
  const minutes = Math.floor(whole / 60);
  const text = minutes < 60 ? `${minutes}:${rest}` : `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${rest}`;
  return seconds < 0 && parts > 0 ? `\u2212${text}` : text;
}

function timeOf(time: string | number | null): number | null {
  const at = time === null ? Number.NaN : new Date(time).getTime();
  return Number.isNaN(at) ? null : at;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}
