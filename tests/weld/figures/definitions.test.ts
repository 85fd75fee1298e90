import { expect, it } from 'vitest';
import { figureDefinitions, definitionOf, inputOf, unitOfFigure } from '../../../shared/weld/figures/figure-definitions.js';
import { grades } from '../../../shared/weld/figures/grades.js';
import { methodTexts } from '../../../shared/weld/figures/method-texts.js';
import { sourceTexts } from '../../../shared/weld/figures/source-texts.js';

it('defines each figure once', () => {
  const names = figureDefinitions.map(({ name }) => name);
  expect(names.length).toBe(new Set(names).size);
});

it('finds the definition of a path, with the number of its arc', () => {
  expect(definitionOf('heatInput')).toMatchObject({ definition: { name: 'heatInput' }, number: null });
  expect(definitionOf('arcs.3.current.mean')).toMatchObject({ definition: { name: 'arcs.N.current.mean', unit: 'A' }, number: 3 });
  expect(definitionOf('weldZone.arcs.2.voltage')).toMatchObject({ definition: { name: 'weldZone.arcs.N.voltage' }, number: 2 });
  expect(definitionOf('t85.value')).toMatchObject({ number: null });
  expect(definitionOf('slag')).toBeUndefined();
  expect(() => unitOfFigure('slag')).toThrow('there is no figure slag');
});

it('has every figure that is an input of another among the figures', () => {
  for (const { inputs } of figureDefinitions) for (const input of inputs) if ('figure' in input) expect(unitOfFigure(input.figure), input.figure).toBeTypeOf('string');
});

it('finds the input that a name in a formula means', () => {
  const arcEnergy = definitionOf('arcEnergy')?.definition;
  if (arcEnergy === undefined) throw new Error('arcEnergy is not defined');
  expect(inputOf(arcEnergy, 'energy2')).toEqual({ input: { name: 'energyN', figure: 'arcs.N.energy' }, arc: 2 });
  expect(inputOf(arcEnergy, 'slag1')).toBeUndefined();
});

it('uses every text that it has, and words them all', () => {
  expect([...new Set(figureDefinitions.map(({ method }) => method))].sort()).toEqual(Object.keys(methodTexts).sort());
  expect([...new Set(figureDefinitions.map(({ source }) => source))].sort()).toEqual(Object.keys(sourceTexts).sort());
  expect([...new Set(figureDefinitions.map(({ grade }) => grade))].sort()).toEqual(Object.keys(grades).sort());
});
