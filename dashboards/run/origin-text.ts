import type { Run } from '../../shared/api-types/run.js';
import { formatDateTime } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { runWords } from './run-words.js';

/** Where the data of a run came from, in words. */
export function originText({ origin, carriage }: Pick<Run, 'origin' | 'carriage'>): string {
  const say = wordsOf(runWords);
  return origin.kind === 'live' ? say.recordedLive(carriage) : say.imported(origin.file, origin.by, origin.at === null ? null : formatDateTime(origin.at));
}
