import { judgedArcNames, judgedRunNames, quantities, type JudgedArcName, type JudgedRunName } from '../quantities.js';

type Varying = 'currentVariation' | 'voltageVariation';
export type CapabilityArcName = Exclude<JudgedArcName, Varying>;
export type CapabilityRunName = Exclude<JudgedRunName, Varying> | 't85';
export type CapabilityName = CapabilityArcName | CapabilityRunName;

const isMean = (name: JudgedArcName): name is CapabilityArcName => quantities[name].judged.by !== 'variation';

/** The quantities of which a run has one value: the mean over its weld zone of what is judged along it, and its t8/5; those of arcs, and those of the run. */
export const capabilityArcNames: readonly CapabilityArcName[] = judgedArcNames.filter(isMean);
export const capabilityRunNames: readonly CapabilityRunName[] = [...new Set<CapabilityRunName>([...judgedRunNames, 't85'])];
export const capabilityNames: readonly CapabilityName[] = [...capabilityArcNames, ...capabilityRunNames];

export function isOfArc(name: CapabilityName): name is CapabilityArcName {
  return capabilityArcNames.some((own) => own === name);
}
