import type { Run } from '../../shared/api-types/run.js';
import { isoTime } from '../../shared/weld/run-figures.js';
import type { StreamState } from './stream-state.js';

/** Where an imported log came from; its time µs since 1970. */
export interface LogOrigin {
  readonly at: number;
  readonly file: string | null;
  readonly by: string | null;
}

/** Where the items of a stream came from; of a log that was imported before that was noted nothing more is known. */
export function originOf({ stream, origin }: StreamState): Run['origin'] {
  if (stream === '') return { kind: 'live', file: null, at: null, by: null };
  return { kind: 'log', file: origin?.file ?? null, at: origin === null ? null : isoTime(origin.at), by: origin?.by ?? null };
}
