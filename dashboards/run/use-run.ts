import { useEffect } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRun } from '../shared/api.js';
import { onRun } from '../shared/live-feed.js';
import { useAnswer, type AnswerNow } from '../shared/use-answer.js';

/** One run, followed by the live feed. */
export function useRun(id: string): AnswerNow<Run> {
  const answer = useAnswer(async (signal) => await fetchRun(id, signal), [id]);
  useEffect(() => onRun((run) => { if (run.id === id) answer.change(() => run); }), [id]);
  return answer;
}
