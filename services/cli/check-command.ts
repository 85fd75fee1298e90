import { constants } from 'node:fs';
import { access, mkdir, rm, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { Command } from 'commander';
import { loadSettings } from '../settings.js';
import type { Settings } from '../settings.js';
import { checkBroker } from './broker-check/check-broker.js';
import { ok, reasonOf, wrong, type Finding } from './broker-check/finding.js';
import { exitCodes, exitOnWrongUsage } from './usage.js';

const connectWithinMs = 5_000;

/** `check`: reads the settings, reaches what they name, says what is wrong. */
export function checkCommand(): Command {
  const command = new Command('check');
  command
    .description('read the settings, reach what they name, try out what would lose data at an outside broker, and say what is wrong')
    .allowExcessArguments(false)
    .action(async () => {
      const settings = loadSettings();
      const findings = [await dataDirectory(settings), ...(await broker(settings)), await pages(settings)];
      for (const { state, text } of findings) process.stdout.write(`${state.padEnd(5)}  ${text}\n`);
      if (findings.some(({ state }) => state === 'wrong')) process.exitCode = exitCodes.failed;
    });
  return exitOnWrongUsage(command);
}

async function dataDirectory({ dataDir }: Settings): Promise<Finding> {
  const probe = join(dataDir, `probe-${process.pid}`);
  try {
    await mkdir(dataDir, { recursive: true });
    await access(dataDir, constants.W_OK);
    await writeFile(probe, 'probe', { flush: true });
    await rm(probe);
    return ok(`SEAMWARDEN_DATA_DIR: ${dataDir} takes writes`);
  } catch (thrown) {
    return wrong(`SEAMWARDEN_DATA_DIR: ${dataDir}: ${reasonOf(thrown)}`);
  }
}

/** The broker that comes along has only a port to look at; one of the house is tried out. */
async function broker({ mqttUrl, mqttHost, mqttPort }: Settings): Promise<Finding[]> {
  if (mqttUrl === null) return [await portState('SEAMWARDEN_MQTT_PORT', mqttHost, mqttPort, 'the embedded broker')];
  const findings = await checkBroker(mqttUrl);
  return findings.map(({ state, text }) => ({ state, text: `SEAMWARDEN_MQTT_URL: ${new URL(mqttUrl).host} ${text}` }));
}

function pages({ httpHost, httpPort }: Settings): Promise<Finding> {
  return portState('SEAMWARDEN_HTTP_PORT', httpHost, httpPort, 'pages and API');
}

/** A port that nobody has is free for the service; one that answers may be the service itself. */
function portState(name: string, host: string, port: number, use: string): Promise<Finding> {
  if (port === 0) return Promise.resolve(ok(`${name}: ${use} take any free port`));
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: connectWithinMs });
    const done = (text: string): void => {
      socket.destroy();
      resolve(ok(`${name}: ${text}`));
    };
    socket.once('connect', () => {
      done(`${host}:${port} is in use (by this service, if it runs)`);
    });
    socket.once('error', () => {
      done(`${host}:${port} is free for ${use}`);
    });
    socket.once('timeout', () => {
      done(`${host}:${port} does not answer`);
    });
  });
}
