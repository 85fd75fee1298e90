import { describe, expect, it } from 'vitest';
import { formulaText } from '../../dashboards/run/figures/formula-text.js';
import { methodWords } from '../../dashboards/run/figures/method-words.js';
import { sourceWords } from '../../dashboards/run/figures/source-words.js';
import { whereFromWords } from '../../dashboards/run/figures/where-from-words.js';
import { figureDefinitions } from '../../shared/weld/figures/figure-definitions.js';

describe('where a figure comes from, in words', () => {
  it('prints a formula with the signs of mathematics, and leaves names and numbers as they are', () => {
    expect(formulaText('arcEnergy * thermalEfficiency')).toBe('arcEnergy · thermalEfficiency');
    expect(formulaText('sqrt((4300 - 4.3 * T0) / (500 - T0)^2) * F2')).toBe('√((4300 − 4.3 · T0) ⁄ (500 − T0)²) · F2');
    expect(formulaText('pi / 4 * diameter^2 * (x)^1.22')).toBe('π ⁄ 4 · diameter² · (x)^1.22');
    expect(formulaText('max(0, length - pi * workDiameter)')).toBe('max(0, length − π · workDiameter)');
  });

  it('has a word for every input that is no figure', () => {
    const inputs = figureDefinitions.flatMap(({ inputs: all }) => all.flatMap((own) => ('find' in own ? [own.name.replace(/N$/, '')] : [])));
    expect([...new Set(inputs)].filter((name) => !(name in whereFromWords.en))).toEqual([]);
  });

  it('is Chinese in Chinese', () => {
    const texts = [methodWords.zh, sourceWords.zh].flatMap((own) => Object.entries(own));
    expect(texts.filter(([, text]) => !/\p{Script=Han}/u.test(text))).toEqual([]);
  });
});
