import type { Command } from 'commander';
import { scenarioNames, type Scenario } from '../simulator/scenarios.js';
import { wrongUsage } from './usage.js';

/** What `--scenarios` takes, for the help of a command. */
export const scenariosHelp = `further carriages, each showing one thing: ${scenarioNames.join(', ')} (separated by commas), all or none`;

/** A parser for `--scenarios`. */
export function scenariosOption(command: Command): (text: string) => readonly Scenario[] {
  return (text) => {
    if (text === 'all') return scenarioNames;
    if (text === 'none') return [];
    const names = text.split(',').map((name) => name.trim());
    const known = names.map((name) => scenarioNames.find((scenario) => scenario === name) ?? wrongUsage(command, '--scenarios', text, `${scenarioNames.join(', ')} separated by commas, all or none`));
    return [...new Set(known)];
  };
}
