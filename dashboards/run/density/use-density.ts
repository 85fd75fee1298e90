import type { Run } from '../../../shared/api-types/run.js';
import type { Density } from '../../../shared/api-types/trace.js';
import { get, type Answer } from '../../shared/api.js';
import { useAnswer } from '../../shared/use-answer.js';

/** Samples a second from which an arc can have a density: its blocks are at most 5 ms apart, and readings in between make the rate a little lower. */
const leastRate = 100;

export function mayHaveDensity({ samples, arcTime }: Run['arcs'][number]): boolean {
  return arcTime !== null && arcTime > 0 && samples / arcTime >= leastRate;
}

/** How long an arc was at which voltage and current; null until it is known, and where nothing shows it. */
export function useDensity(run: Run, arc: number): Density | null {
  return useAnswer(async (signal) => (await get(`runs/${encodeURIComponent(run.id)}/density`, { arc }, signal)) as Answer<Density>, [run.id, run.version, run.state, arc]).value;
}
