import { judgedLengths } from '../judging/run-judge.js';
import type { RunSums } from './run-sums.js';

const nothingJudged = { outside: 0, notSent: 0, unjudged: 0 };

/** All lengths are in mm. */
export interface RunLengths {
  readonly inside: number;
  readonly outside: number;
  readonly notProven: number;
  readonly excluded: number;
}

/** Every mm of the run is one of these (in the rules' order of precedence), so they add up to its length. */
export function runLengths({ inside, excluded, gapLength, settled }: RunSums): RunLengths {
  const { outside, notSent, unjudged } = settled === null ? nothingJudged : judgedLengths(settled);
  return { inside: Math.max(0, inside - outside - notSent - unjudged), outside, notProven: gapLength + notSent, excluded: excluded + unjudged };
}
