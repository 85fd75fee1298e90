import { Command } from 'commander';
import { playSimulation, type Play } from '../simulator/play-simulation.js';
import type { Scenario } from '../simulator/scenarios.js';
import { scenariosHelp, scenariosOption } from './scenarios-option.js';
import { exitOnWrongUsage, numberOption, wrongUsage } from './usage.js';

interface SimulateOptions {
  readonly broker: string;
  readonly carriages: number;
  readonly rate: number;
  readonly block?: number;
  readonly seed: number;
  readonly speed: number;
  readonly scenarios: readonly Scenario[];
}

/** `simulate`: simulates carriages against a broker until it is interrupted. */
export function simulateCommand(play: (play: Play) => Promise<void> = playSimulation): Command {
  const command = new Command('simulate');
  command
    .description('simulate carriages against a broker; everything they send is invented and marked as simulated')
    .option('--broker <URL>', 'broker, mqtt:// or mqtts://', (text) => brokerUrl(command, text), 'mqtt://127.0.0.1:1883')
    .option('--carriages <N>', 'how many carriages, 1 to 200', numberOption(command, '--carriages', 1, 200, 'whole'), 4)
    .option('--rate <HZ>', 'readings a second, 1 to 100', numberOption(command, '--rate', 1, 100, 'decimal'), 10)
    .option('--block <MS>', 'send 1 kHz blocks of this many ms instead, 10 to 1000', numberOption(command, '--block', 10, 1000, 'whole'))
    .option('--seed <N>', 'seed of the simulation, 0 to 4294967295', numberOption(command, '--seed', 0, 4294967295, 'whole'), 1)
    .option('--speed <X>', 'times real time, 0.1 to 100', numberOption(command, '--speed', 0.1, 100, 'decimal'), 1)
    .option('--scenarios <NAMES>', scenariosHelp, scenariosOption(command), [])
    .allowExcessArguments(false)
    .action(async (options: SimulateOptions) => {
      const end = new AbortController();
      const interrupted = (): void => { end.abort(); };
      process.once('SIGINT', interrupted).once('SIGTERM', interrupted);
      const { broker: url, block = null, ...others } = options;
      const scenarios = options.scenarios.map((scenario) => ({ scenario, block }));
      await play({ ...others, url, block, scenarios, signal: end.signal, log: (line) => { process.stderr.write(`${line}\n`); } });
    });
  return exitOnWrongUsage(command);
}

function brokerUrl(command: Command, text: string): string {
  const url = URL.canParse(text) ? new URL(text) : null;
  const fits = url !== null && (url.protocol === 'mqtt:' || url.protocol === 'mqtts:') && url.hostname !== '';
  return fits ? text : wrongUsage(command, '--broker', text, 'a broker address such as mqtt://127.0.0.1:1883');
}
