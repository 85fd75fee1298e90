import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command } from 'commander';
import { pino } from 'pino';
import { startService } from '../main.js';
import { loadSettings } from '../settings.js';
import { planCarriage, type CarriagePlan } from '../simulator/carriage-plan.js';
import { playSimulation } from '../simulator/play-simulation.js';
import type { EventKind } from '../simulator/run-event.js';
import { scriptRun } from '../simulator/run-script.js';
import { planScenario, scenarioNames, type Scenario } from '../simulator/scenarios.js';
import { simulatedProcedures } from '../simulator/simulated-procedures.js';
import { simulatedSensors } from '../simulator/simulated-sensors.js';
import { scenariosHelp, scenariosOption } from './scenarios-option.js';
import { stopOnSignal } from './start-command.js';
import { caution, exitOnWrongUsage, numberOption } from './usage.js';

interface DemoOptions {
  readonly carriages: number;
  readonly seed: number;
  readonly speed: number;
  readonly scenarios: readonly Scenario[];
}

/** ms of the blocks in which the alternating arc is sent: an alternating current is known only from its samples. */
const alternatingBlock = 100;

/** `demo`: the service on a scratch data directory with simulated carriages at work, until it is interrupted. */
export function demoCommand(): Command {
  const command = new Command('demo');
  command
    .description('run the service on a scratch data directory with simulated carriages at work, faults included')
    .option('--carriages <N>', 'how many carriages, 1 to 50', numberOption(command, '--carriages', 1, 50, 'whole'), 5)
    .option('--seed <N>', 'seed of the simulation', numberOption(command, '--seed', 0, 4294967295, 'whole'), 1)
    .option('--speed <X>', 'times real time, 0.1 to 20', numberOption(command, '--speed', 0.1, 20, 'decimal'), 1)
    .option('--scenarios <NAMES>', scenariosHelp, scenariosOption(command), scenarioNames)
    .allowExcessArguments(false)
    .action(async (options: DemoOptions) => {
      const usual = loadSettings();
      const dataDir = await mkdtemp(join(tmpdir(), 'seamwarden-demo-'));
      const log = pino({ level: 'warn' }, { write: plainly });
      const service = await startService(
        { ...usual, dataDir, mqttUrl: null, httpPort: await freeOr(usual.httpHost, usual.httpPort), mqttPort: await freeOr(usual.mqttHost, usual.mqttPort) },
        log,
      );
      await addProcedures(service.httpUrl);
      await declareSensors(service.httpUrl, plansOf(options));
      const end = new AbortController();
      const playing = playSimulation({
        url: service.mqttUrl, carriages: options.carriages, rate: 10, block: null, seed: options.seed, speed: options.speed,
        scenarios: options.scenarios.map((scenario) => ({ scenario, block: scenario === 'alternating' ? alternatingBlock : null })),
        signal: end.signal,
        // At first, connecting is expected; only failing to connect is news.
        log: (line) => {
          if (!line.endsWith(': connected')) process.stderr.write(`${line}\n`);
        },
      });
      stopOnSignal({
        ...service,
        stop: async () => {
          await service.stop();
          await rm(dataDir, { recursive: true, force: true });
        },
      }, async () => {
        end.abort();
        await playing;
      });
      process.stdout.write(
        `Simulated carriages are at work; everything they send is invented.\n${demoProgram(options)}${caution}\nOpen ${service.httpUrl}/ (Ctrl-C ends it)\n`,
      );
    });
  return exitOnWrongUsage(command);
}

/** A line of the log for people, for a demo that no log collector reads. */
function plainly(line: string): void {
  const { msg } = JSON.parse(line) as { readonly msg?: string };
  process.stderr.write(`${msg ?? line.trim()}\n`);
}

/** The simulated seams are welded to invented procedures. */
async function addProcedures(httpUrl: string): Promise<void> {
  for (const procedure of simulatedProcedures) await send(`${httpUrl}/api/procedures`, 'POST', procedure, `the procedure ${procedure.id} was`);
}

/** Where the values of the simulated carriages come from. */
async function declareSensors(httpUrl: string, plans: readonly CarriagePlan[]): Promise<void> {
  for (const plan of plans) await send(`${httpUrl}/api/carriages/${plan.site}/${plan.carriage}/sensors`, 'PUT', simulatedSensors(plan, Date.now()), `the sensors of ${plan.carriage} were`);
}

async function send(url: string, method: 'POST' | 'PUT', content: object, what: string): Promise<void> {
  const answer = await fetch(url, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify({ ...content, by: 'demo' }) });
  if (!answer.ok) throw new Error(`${what} not taken: ${await answer.text()}`);
}

/** The carriages of a demo: those with a number, then those of the scenarios. */
function plansOf({ carriages, seed, scenarios }: DemoOptions): CarriagePlan[] {
  return [...Array.from({ length: carriages }, (_, place) => planCarriage(place + 1, seed)), ...scenarios.map((scenario) => planScenario(scenario, seed))];
}

/** The port if it is free, otherwise 0, which means any. */
function freeOr(host: string, port: number): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', () => { resolve(0); });
    probe.listen(port, host, () => {
      probe.close(() => { resolve(port); });
    });
  });
}

const fates: Readonly<Record<EventKind, string>> = {
  good: 'a good seam',
  voltageDrift: 'the voltage drifts: a warning, then out of limits',
  speedSlip: 'the drive slips: travel speed and heat input go out of limits',
  arcLoss: 'the arc is lost and re-struck with an overlap',
  silence: 'the sensors go silent with the arc on',
  extensionDrift: 'the electrode extension grows: less current at the same wire feed',
};

const shown: Readonly<Record<Scenario, string>> = {
  alternating: 'two arcs, the trailing one on alternating current, in samples of 1 ms',
  ring: 'a shell ring turns under the carriage: one full turn and its overlap',
  extension: fates.extensionDrift,
};

/** What each carriage shows in its first run, a line each. */
function demoProgram(options: DemoOptions): string {
  const lines = plansOf(options).map((plan, place) => {
    const scenario = options.scenarios[place - options.carriages];
    return `  ${plan.site}/${plan.carriage}: ${scenario === undefined ? fates[scriptRun(plan, 0).event.kind] : shown[scenario]}`;
  });
  return `In the first minutes:\n${lines.join('\n')}\n`;
}
