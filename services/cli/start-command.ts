import { Command } from 'commander';
import { pino } from 'pino';
import { startService, type RunningService } from '../main.js';
import { loadSettings, settingNames } from '../settings.js';
import { exitCodes, exitOnWrongUsage } from './usage.js';

/** `start`: the whole service, until it is stopped. */
export function startCommand(): Command {
  const command = new Command('start');
  command
    .description('run the whole service: broker (unless one is named), ingest, store, API and pages')
    .addHelpText('after', `\nSettings, from the environment or a file .env in the working directory (README, "Settings"):\n${settingNames.map((name) => `  ${name}`).join('\n')}\n`)
    .allowExcessArguments(false)
    .action(async () => {
      const settings = loadSettings();
      const service = await startService(settings, pino({ name: 'seamwarden' }, pino.destination(2)));
      // Whoever reads that it listens may stop it in the same moment.
      stopOnSignal(service);
      process.stdout.write(`listening http=${service.httpUrl} mqtt=${service.mqttUrl}\n`);
    });
  return exitOnWrongUsage(command);
}

/** Ends the process once the service has stopped; a second signal ends it at once. */
export function stopOnSignal(service: RunningService, before: () => Promise<void> = () => Promise.resolve()): void {
  let stopping = false;
  const stop = (): void => {
    if (stopping) process.exit(exitCodes.failed);
    stopping = true;
    before()
      .then(() => service.stop())
      .then(
        () => process.exit(0),
        () => process.exit(exitCodes.failed),
      );
  };
  process.on('SIGINT', stop).on('SIGTERM', stop);
}
