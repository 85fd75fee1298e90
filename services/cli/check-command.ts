import { Command } from 'commander';
import { loadSettings, type Settings } from '../settings.js';
import { checkBroker } from './broker-check/check-broker.js';
import type { Finding } from './broker-check/finding.js';
import { checkDataDir } from './check-data-dir.js';
import { checkPorts } from './check-ports.js';
import { exitCodes, exitOnWrongUsage } from './usage.js';

/** `check`: reads the settings and the store, reaches what they name, and reports what is wrong. */
export function checkCommand(): Command {
  const command = new Command('check');
  command
    .description('check settings, stored data, ports and broker, account for every stored item, and report problems')
    .allowExcessArguments(false)
    .action(async () => {
      const settings = loadSettings();
      const findings = [...(await checkDataDir(settings)), ...(await broker(settings)), ...(await checkPorts(settings))];
      for (const { state, text } of findings) process.stdout.write(`${state.padEnd(5)}  ${text}\n`);
      if (findings.some(({ state }) => state === 'wrong')) process.exitCode = exitCodes.failed;
    });
  return exitOnWrongUsage(command);
}

async function broker({ mqttUrl }: Settings): Promise<Finding[]> {
  if (mqttUrl === null) return [];
  return (await checkBroker(mqttUrl)).map(({ state, text }) => ({ state, text: `SEAMWARDEN_MQTT_URL: ${new URL(mqttUrl).host} ${text}` }));
}
