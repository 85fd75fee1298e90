import type { StreamState } from './stream-state.js';

/** How often live figures are told and records written while a carriage sends, µs. */
const tellEvery = 200_000;
const flushEvery = 1_000_000;

/** Something is to be told and written: in its time, or at once where somebody waits for it. */
export function noteNews(stream: StreamState): void {
  stream.flushAt = Math.min(stream.flushAt, stream.flushedAt + flushEvery);
  stream.tellAt = Math.min(stream.tellAt, stream.toldAt + tellEvery);
}

export function noteNewsAtOnce(stream: StreamState): void {
  stream.flushAt = stream.tellAt = stream.dueAt = 0;
}

export function noteTold(stream: StreamState, now: number): void {
  stream.toldAt = now;
  stream.tellAt = now + tellEvery;
}

export function noteFlushed(stream: StreamState, now: number): void {
  stream.flushedAt = now;
  stream.flushAt = stream.tellAt = Infinity;
}
