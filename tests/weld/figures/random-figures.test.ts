import { expect, it } from 'vitest';
import type { FiguredRun } from '../../../shared/weld/figures/figured-run.js';
import { runFigureAnswers } from '../../../shared/weld/figures/run-figure-answers.js';
import { defaultWeldSettings } from '../../../shared/weld/weld-settings.js';
import { countFrom } from '../../counts.js';
import { randomRun } from '../../model/random-run.js';
import { replay } from '../../replay/replay.js';
import { firstSeed, seedsFrom } from '../../seeds.js';
import { wrongInFigure } from './check-figure.js';

const seeds = countFrom('FIGURE_SEEDS', { soon: 25, full: 200 });
const first = firstSeed('FIGURE_FIRST_SEED');

/** How often the random runs have what makes a formula. */
const met = { oneArc: 0, severalArcs: 0, restarts: 0, noTravel: 0 };

it(`in random runs from seed ${first} on, the inputs put into the formula give the value`, { timeout: 600_000 }, () => {
  for (const seed of seedsFrom(first, seeds, () => Object.values(met).includes(0))) {
    const { description, events } = randomRun(seed);
    for (const { figures, assignment } of replay(events, { settings: defaultWeldSettings })) {
      met.oneArc += figures.arcs.length === 1 ? 1 : 0;
      met.severalArcs += figures.arcs.length > 1 ? 1 : 0;
      met.restarts += figures.restarts.length;
      met.noTravel += figures.length === null ? 1 : 0;
      const run: FiguredRun = { ...figures, assignment };
      expect(runFigureAnswers(run, null).flatMap(wrongInFigure), `seed ${seed}: ${description}`).toEqual([]);
    }
  }
  expect(Object.entries(met).filter(([, times]) => times === 0)).toEqual([]);
});
