import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { capabilityNames, isOfArc, type CapabilityName } from '../../shared/weld/capability/capability-quantities.js';
import { runGroupName } from '../../shared/weld/procedure/run-group-name.js';
import type { Query } from '../shared/address.js';
import { get, type Answer } from '../shared/api.js';
import { startOfDay } from '../shared/plant-days.js';

/** What is to be shown, as the address says it; an empty text is not said. */
export interface CapabilityChoice {
  readonly procedure: string;
  readonly quantity: CapabilityName;
  readonly arc: string;
  readonly runGroup: string;
  /** Days of the plant, the last included. */
  readonly from: string;
  readonly to: string;
  readonly simulated: boolean;
}

export function readChoice(query: URLSearchParams): CapabilityChoice {
  const text = (name: string): string => query.get(name) ?? '';
  return {
    procedure: text('procedure'), quantity: capabilityNames.find((name) => name === text('quantity')) ?? 'heatInput',
    arc: text('arc'), runGroup: text('runGroup'), from: text('from'), to: text('to'), simulated: text('simulated') === 'true',
  };
}

/** The choice as an address, without what is not said. */
export function choiceQuery({ simulated, ...choice }: CapabilityChoice): Query {
  return { ...choice, simulated: simulated ? 'true' : null };
}

/** Names of the run groups of the newest revision, as the records of runs call them. */
export function groupNames({ runGroups = [] }: Procedure): string[] {
  return runGroups.map((own) => runGroupName(runGroups, own));
}

/** Arcs of a run group of the newest revision. */
export function groupArcs({ runGroups = [] }: Procedure, name: string): number[] {
  return runGroups.find((own) => runGroupName(runGroups, own) === name)?.arcs?.map(({ arc }) => arc) ?? [];
}

/** The choice with what the procedure decides where it says nothing: its first run group, and the first arc of that. */
export function completed(choice: CapabilityChoice, procedure: Procedure): CapabilityChoice {
  const runGroup = choice.runGroup === '' ? (groupNames(procedure)[0] ?? '') : choice.runGroup;
  if (!isOfArc(choice.quantity)) return { ...choice, runGroup, arc: '' };
  const first = groupArcs(procedure, runGroup)[0];
  return { ...choice, runGroup, arc: choice.arc === '' && first !== undefined ? String(first) : choice.arc };
}

export async function fetchCapability(choice: CapabilityChoice, zone: string, signal: AbortSignal): Promise<Answer<CapabilityAnswer>> {
  const moment = (day: string, later: number): string | null => {
    const at = day === '' ? null : startOfDay(day, later, zone);
    return at === null ? null : new Date(at).toISOString();
  };
  return (await get('capability', { ...choiceQuery(choice), from: moment(choice.from, 0), to: moment(choice.to, 1) }, signal)) as Answer<CapabilityAnswer>;
}
