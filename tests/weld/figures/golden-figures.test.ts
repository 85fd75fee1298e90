import { describe, expect, it } from 'vitest';
import type { FiguredRun } from '../../../shared/weld/figures/figured-run.js';
import { runFigureAnswers } from '../../../shared/weld/figures/run-figure-answers.js';
import { programRuns } from '../../replay/case-runs.js';
import { readCases } from '../../replay/read-cases.js';
import { wrongInFigure } from './check-figure.js';

describe('figures of the golden cases: the inputs put into the formula give the value to nine digits', () => {
  it.each(readCases())('$name', ({ file }) => {
    for (const { figures } of programRuns(file)) {
      const items = runFigureAnswers(figures as FiguredRun, file.procedures?.[0] ?? null);
      expect(items.flatMap(wrongInFigure)).toEqual([]);
      expect(items.filter(({ formula }) => formula !== null).length).toBeGreaterThan(2);
    }
  });
});
