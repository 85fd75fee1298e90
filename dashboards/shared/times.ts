import { formatNumber, noValue } from './format.js';
import { sharedWords } from './shared-words.js';
import { wordsOf } from './words.js';

/** An age or a span in words of one or two units, never negative; ms. */
export function formatAge(ms: number): string {
  const seconds = Math.max(0, ms) / 1000;
  if (seconds < 9.95) return `${formatNumber(seconds, 1)} s`;
  if (seconds < 119.5) return `${formatNumber(seconds, 0)} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return wordsOf(sharedWords).days(Math.floor(hours / 24));
}

/** Time of day in the browser's zone: 14:03:07. */
export function formatClock(time: string | number | null): string {
  const at = time === null ? null : new Date(time);
  if (at === null || Number.isNaN(at.getTime())) return noValue;
  return [at.getHours(), at.getMinutes(), at.getSeconds()].map(two).join(':');
}

/** Hours and minutes of the day in the browser's zone: 14:03. */
export function formatHour(time: string | number | null): string {
  const clock = formatClock(time);
  return clock === noValue ? clock : clock.slice(0, 5);
}

/** Date and time of day in the browser's zone: 2026-11-25 14:03:07. */
export function formatDateTime(time: string | number | null): string {
  const at = time === null ? null : new Date(time);
  if (at === null || Number.isNaN(at.getTime())) return noValue;
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${formatClock(at.getTime())}`;
}

/** The zone that times are shown in, at that time: UTC+01:00. */
export function formatZone(time: string | number, minutesWest = new Date(time).getTimezoneOffset()): string {
  const minutes = Math.abs(minutesWest);
  return `UTC${minutesWest > 0 ? '\u2212' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
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

function two(value: number): string {
  return String(value).padStart(2, '0');
}
