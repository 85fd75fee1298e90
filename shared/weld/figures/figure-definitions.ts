import { alternatingDefinitions } from './alternating-definitions.js';
import { arcDefinitions } from './arc-definitions.js';
import { circumferenceDefinitions } from './circumference-definitions.js';
import { coolingDefinitions } from './cooling-definitions.js';
import { depositDefinitions, wireDefinitions } from './deposit-definitions.js';
import type { FigureDefinition, InputDefinition } from './figure-definition.js';
import { placeDefinitions, runDefinitions } from './run-definitions.js';
import { weldZoneDefinitions } from './weld-zone-definitions.js';

/** Every figure of a run, defined once, in the order in which answers and docs list them. */
export const figureDefinitions: readonly FigureDefinition[] = [
  ...runDefinitions, ...weldZoneDefinitions, ...coolingDefinitions, ...depositDefinitions, ...circumferenceDefinitions, ...placeDefinitions, ...arcDefinitions, ...wireDefinitions, ...alternatingDefinitions,
];

const byName = new Map(figureDefinitions.map((own) => [own.name, own]));

/** The definition of a figure by its path in a run (`arcs.1.energy`), with the number that it has for `N`; undefined if there is no such figure. */
export function definitionOf(path: string): { readonly definition: FigureDefinition; readonly number: number | null } | undefined {
  const number = /(?:^|\.)(\d+)(?:\.|$)/.exec(path)?.[1];
  const definition = byName.get(path.replaceAll(/(^|\.)\d+(?=\.|$)/g, '$1N'));
  return definition === undefined ? undefined : { definition, number: number === undefined ? null : Number(number) };
}

/** Unit of a figure by its name or path; throws if there is none of that name. */
export function unitOfFigure(path: string): string {
  const unit = (byName.get(path) ?? definitionOf(path)?.definition)?.unit;
  if (unit === undefined) throw new Error(`there is no figure ${path}`);
  return unit;
}

/** The input of that name in a formula, with the number of its arc where it has one of its own: `energy2` is `energyN` of arc 2. */
export function inputOf({ inputs }: FigureDefinition, name: string): { readonly input: InputDefinition; readonly arc: number | null } | undefined {
  const plain = inputs.find((own) => own.name === name);
  if (plain !== undefined) return { input: plain, arc: null };
  const [, stem, arc] = /^(.*?)(\d+)$/.exec(name) ?? [];
  const numbered = inputs.find((own) => own.name === `${stem ?? ''}N`);
  return numbered === undefined ? undefined : { input: numbered, arc: Number(arc) };
}

/** The forms that a figure's formula may have, for any run: a sum as its term after Σ. Empty for a figure without formula. */
export function formulaForms({ formula }: FigureDefinition): readonly string[] {
  if (formula === null) return [];
  if (typeof formula === 'string') return [formula];
  return 'forms' in formula ? formula.forms : [`Σ (${formula.sum})`];
}
