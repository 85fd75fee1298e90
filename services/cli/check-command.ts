import { constants } from 'node:fs';
import { access, mkdir, rm, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { Command } from 'commander';
import { connectAsync } from 'mqtt';
import { loadSettings } from '../settings.js';
import type { Settings } from '../settings.js';
import { exitCodes, exitOnWrongUsage } from './usage.js';

const connectWithinMs = 5_000;

/** `check`: reads the settings, reaches what they name, says what is wrong. */
export function checkCommand(): Command {
  const command = new Command('check');
  command
    .description('read the settings, reach what they name, and say what is wrong')
    .allowExcessArguments(false)
    .action(async () => {
      const settings = loadSettings();
      const findings = [await dataDirectory(settings), await broker(settings), await pages(settings)];
      for (const { ok, text } of findings) process.stdout.write(`${ok ? 'ok   ' : 'wrong'}  ${text}\n`);
      if (findings.some(({ ok }) => !ok)) process.exitCode = exitCodes.failed;
    });
  return exitOnWrongUsage(command);
}

interface Finding {
  readonly ok: boolean;
  readonly text: string;
}

async function dataDirectory({ dataDir }: Settings): Promise<Finding> {
  const probe = join(dataDir, `probe-${process.pid}`);
  try {
    await mkdir(dataDir, { recursive: true });
    await access(dataDir, constants.W_OK);
    await writeFile(probe, 'probe', { flush: true });
    await rm(probe);
    return { ok: true, text: `SEAMWARDEN_DATA_DIR: ${dataDir} takes writes` };
  } catch (thrown) {
    return { ok: false, text: `SEAMWARDEN_DATA_DIR: ${dataDir}: ${thrown instanceof Error ? thrown.message : String(thrown)}` };
  }
}

async function broker(settings: Settings): Promise<Finding> {
  const { mqttUrl, mqttHost, mqttPort } = settings;
  if (mqttUrl === null) return portState('SEAMWARDEN_MQTT_PORT', mqttHost, mqttPort, 'the embedded broker');
  try {
    const client = await connectAsync(mqttUrl, { connectTimeout: connectWithinMs, reconnectPeriod: 0, clean: true }, false);
    await client.endAsync();
    return { ok: true, text: `SEAMWARDEN_MQTT_URL: ${new URL(mqttUrl).host} answers` };
  } catch (thrown) {
    return { ok: false, text: `SEAMWARDEN_MQTT_URL: ${new URL(mqttUrl).host}: ${thrown instanceof Error ? thrown.message : String(thrown)}` };
  }
}

function pages({ httpHost, httpPort }: Settings): Promise<Finding> {
  return portState('SEAMWARDEN_HTTP_PORT', httpHost, httpPort, 'pages and API');
}

/** A port that nobody has is free for the service; one that answers may be the service itself. */
function portState(name: string, host: string, port: number, use: string): Promise<Finding> {
  if (port === 0) return Promise.resolve({ ok: true, text: `${name}: ${use} take any free port` });
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: connectWithinMs });
    const done = (text: string): void => {
      socket.destroy();
      resolve({ ok: true, text: `${name}: ${text}` });
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
