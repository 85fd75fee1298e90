import { runGroupOf } from '../procedure/procedure-parameters.js';
import type { FoundInput, InputDefinition } from './figure-definition.js';
import { partOf, pathOf, valueOf, type FigurePlace } from './figured-run.js';

const notKnown: FoundInput = { value: null, from: 'declared' };

/** The first value that is known, in this order. */
function firstOf(...found: readonly (readonly [value: number | undefined, from: FoundInput['from']])[]): FoundInput {
  for (const [value, from] of found) if (value !== undefined) return { value, from };
  return notKnown;
}

function groupOf({ run, procedure }: FigurePlace) {
  return runGroupOf(procedure?.runGroups, run.assignment);
}

function procedureArc(place: FigurePlace) {
  return groupOf(place)?.arcs?.find(({ arc }) => arc === place.number);
}

function assignedArc({ run, number }: FigurePlace) {
  return run.assignment?.arcs?.find(({ arc }) => arc === number);
}

/** k as the run was computed with. */
export function thermalEfficiency(name: string): InputDefinition {
  return { name, unit: '', find: ({ run, procedure }) => ({ value: valueOf(run, 'thermalEfficiency'), from: procedure?.thermalEfficiency === undefined ? 'setting' : 'procedure' }) };
}

/** Of the job's arc, else of the procedure's. */
export function wireDiameter(name: string): InputDefinition {
  return { name, unit: 'mm', find: (place) => firstOf([assignedArc(place)?.wireDiameter, 'declared'], [procedureArc(place)?.wireDiameter, 'procedure']) };
}

/** Wires that are fed side by side; 1 where the procedure gives none. */
export function wires(name: string): InputDefinition {
  return { name, unit: '', find: (place) => firstOf([procedureArc(place)?.wires, 'procedure'], [1, 'setting']) };
}

/** Weld metal per melted wire; 1.0 where the procedure gives none. */
export function recovery(name: string): InputDefinition {
  return { name, unit: '', find: (place) => firstOf([procedureArc(place)?.recovery, 'procedure'], [1, 'setting']) };
}

/** kg of flux per kg of weld metal, published as about 1; 1.0 where the procedure gives none. */
export function fluxRatio(name: string): InputDefinition {
  return { name, unit: '', find: ({ procedure }) => firstOf([procedure?.fluxRatio, 'procedure'], [1, 'setting']) };
}

export function electrodeExtension(name: string): InputDefinition {
  return { name, unit: 'mm', find: (place) => firstOf([assignedArc(place)?.electrodeExtension, 'declared']) };
}

/** Diameter of the workpiece at the surface for which speed and length hold. */
export function workDiameter(name: string): InputDefinition {
  return { name, unit: 'mm', find: ({ run }) => firstOf([run.assignment?.diameter, 'declared']) };
}

export function thickness(name: string): InputDefinition {
  return { name, unit: 'mm', find: ({ run }) => firstOf([valueOf(run, 't85.thickness') ?? run.assignment?.thickness, 'declared']) };
}

/** T0 as the cooling time was computed with; `temperatureFrom` says whether it was measured. */
export function plateTemperature(name: string): InputDefinition {
  return { name, unit: '°C', find: ({ run }) => ({ value: valueOf(run, 't85.temperature'), from: partOf(run, 't85.temperatureFrom') === 'declared' ? 'declared' : 'measured' }) };
}

/** F2 or F3 as the cooling time was computed with; 1 where the run group gives none. */
export function shapeFactor(name: string, factor: 'f2' | 'f3'): InputDefinition {
  return { name, unit: '', find: (place) => ({ value: valueOf(place.run, `t85.${factor}`), from: groupOf(place)?.shapeFactors?.[factor] === undefined ? 'setting' : 'procedure' }) };
}

/** Whether the arc alternates: its part `ac` is there. */
export function isAlternating({ run, number }: FigurePlace): boolean {
  const ac = partOf(run, pathOf('arcs.N.ac', number));
  return ac !== undefined && ac !== null;
}
