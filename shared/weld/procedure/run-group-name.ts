import type { RunGroupOutline } from './procedure-parameters.js';

/**
 * What a run group of a procedure is called in the records of its runs: its name; where it has none, or shares it with another group of the revision,
 * also its runs and side, so that no two groups that differ in these are called the same.
 */
export function runGroupName(groups: readonly RunGroupOutline[], group: RunGroupOutline): string {
  const { name } = group;
  if (name !== undefined && groups.filter((other) => other.name === name).length === 1) return name;
  const [first, last] = group.runs;
  const runs = `runs ${first}-${last}${group.side === undefined ? '' : `, side ${group.side}`}`;
  return name === undefined ? runs : `${name} (${runs})`;
}
