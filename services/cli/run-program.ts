import { Command } from 'commander';
import { version } from '../version.js';
import { checkCommand } from './check-command.js';
import { demoCommand } from './demo-command.js';
import { importCommand } from './import-command.js';
import { performImport } from './perform-import.js';
import { simulateCommand } from './simulate-command.js';
import { startCommand } from './start-command.js';
import { exitCodes, exitOnWrongUsage } from './usage.js';

/** Runs the command that the command line names. */
export async function runProgram(): Promise<void> {
  const program = exitOnWrongUsage(new Command('seamwarden'));
  program
    .version(version, '--version', 'print the version')
    .description('data logging for carriages that weld long seams by submerged arc')
    .addCommand(startCommand())
    .addCommand(demoCommand())
    .addCommand(simulateCommand())
    .addCommand(importCommand(performImport))
    .addCommand(checkCommand());
  try {
    await program.parseAsync();
  } catch (thrown) {
    process.stderr.write(`error: ${thrown instanceof Error ? thrown.message : String(thrown)}\n`);
    process.exitCode = exitCodes.failed;
  }
}
