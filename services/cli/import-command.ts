import { readFile, stat } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { basename } from 'node:path';
import { Command } from 'commander';
import type { ImportAnswer, ImportRequest, PortFailure } from '../ingest-port.js';
import { largestLog } from '../csv/csv-log.js';
import { readDeviceTime, timeTaken } from '../../shared/weld/decode/device-time.js';
import { readAssignmentOptions } from './assignment-options.js';
import { printRun } from './print-run.js';
import type { PrintedRun } from './print-run.js';
import { exitCodes, exitOnWrongUsage, numberOption, readNumber, wrongUsage } from './usage.js';

/** What an import gives the command to print: the answer, and the API form of the runs it names. */
export interface ImportOutcome {
  readonly answer: ImportAnswer | PortFailure;
  readonly runs: readonly PrintedRun[];
}

interface ImportOptions {
  readonly carriage: string;
  readonly seam?: string;
  readonly run?: number;
  readonly procedure?: string;
  readonly assignment?: string;
  readonly start?: number;
  readonly by?: string;
  readonly json?: true;
}

const caution =
  'Seamwarden records and warns. It is no safety device and no substitute for the emergency stop, the responsible welding coordinator, the governing code or local rules.';

/** `import FILE`: hands a CSV log to `run`, prints its answer and the runs, and sets the exit code. */
export function importCommand(run: (request: ImportRequest) => Promise<ImportOutcome>): Command {
  const command = new Command('import');
  command
    .description('import a CSV log of one run; importing the same file again changes nothing')
    .argument('<FILE>', 'columns time (s, or a timestamp), current, voltage and, where there are, travelSpeed, wireFeedSpeed, travel, plateTemperature, arc')
    .requiredOption('--carriage <CARRIAGE>', 'site/carriage, or a carriage alone (its site is then "import")')
    .option('--seam <NAME>', 'the seam that was welded')
    .option('--run <N>', 'run number on that seam', numberOption(command, '--run', { from: 1, to: 9999, whole: true }))
    .option('--procedure <ID>', 'the procedure that was welded to')
    .option('--assignment <FILE.json>', 'an assignment as over MQTT; the options above go before what it says')
    .option('--start <TIME>', 'when the zero of a log with relative times was, RFC 3339 or Unix ms', (text) => startTime(command, text))
    .option('--by <NAME>', 'who imports it; the user of this machine where it is left out')
    .option('--json', 'print the answer as JSON')
    .allowExcessArguments(false)
    .action(async (file: string, options: ImportOptions) => {
      const [site, carriage] = carriageName(command, options.carriage);
      const assignment = await readAssignmentOptions(command, options);
      const csv = await readLog(file);
      if (csv === null) return;
      const outcome = await run({ csv, site, carriage, assignment, start: options.start ?? null, file: basename(file), by: options.by ?? userName() });
      report(outcome, options);
    });
  return exitOnWrongUsage(command);
}

function report({ answer, runs }: ImportOutcome, options: ImportOptions): void {
  if ('failed' in answer) {
    fail(`error: nothing imported: ${answer.reason}`);
    return;
  }
  for (const { line, reason } of answer.refused) process.stderr.write(`line ${line}: ${reason}\n`);
  if (options.json === true) {
    const { stored, duplicate, refused } = answer;
    const [run, ...further] = runs;
    process.stdout.write(`${JSON.stringify({ ...run, import: { runs: answer.runs, stored, duplicate, refused }, ...(further.length > 0 ? { further } : {}) }, null, 2)}\n`);
  } else {
    process.stdout.write(runs.map((each) => `${printRun(each)}\n`).join('\n'));
    const refused = `${answer.refused.length} ${answer.refused.length === 1 ? 'line' : 'lines'} refused`;
    process.stdout.write(`${answer.stored} items stored, ${answer.duplicate} were there already, ${refused}\n${caution}\n`);
  }
  if (options.start === undefined && runs.some((each) => each.startedAt.startsWith('1970-'))) {
    process.stderr.write('note: the times of the log are relative and count from 1970-01-01; --start says when its zero was\n');
  }
  if (answer.stored + answer.duplicate === 0) fail('error: nothing imported: no line of the log could be used');
}

function fail(line: string): void {
  process.stderr.write(`${line}\n`);
  process.exitCode = exitCodes.failed;
}

/** The user of the operating system; null where it knows no name for the number. */
function userName(): string | null {
  try {
    return userInfo().username;
  } catch {
    return null;
  }
}

/** The text of the log, byte order mark and all; null, with the exit code set, where it cannot be read. */
async function readLog(file: string): Promise<string | null> {
  try {
    const { size } = await stat(file);
    if (size > largestLog) {
      fail(`error: ${file}: has ${size} bytes, takes at most ${largestLog} (256 MiB)`);
      return null;
    }
    return await readFile(file, 'utf8');
  } catch (error) {
    fail(`error: ${file}: cannot be read (${error instanceof Error ? error.message : String(error)})`);
    return null;
  }
}

function carriageName(command: Command, text: string): [site: string, carriage: string] {
  const parts = text.includes('/') ? text.split('/') : ['import', text];
  const [site, carriage] = parts;
  const isName = (name: string | undefined): name is string => name !== undefined && /^[A-Za-z0-9_-]{1,64}$/.test(name);
  if (parts.length === 2 && isName(site) && isName(carriage)) return [site, carriage];
  return wrongUsage(command, '--carriage', text, 'site/carriage or a carriage, each 1 to 64 of the characters A-Z, a-z, 0-9, _ and -');
}

function startTime(command: Command, text: string): number {
  const number = readNumber(text);
  const time = readDeviceTime(Number.isNaN(number) ? text.trim() : number);
  return Number.isNaN(time) ? wrongUsage(command, '--start', text, timeTaken) : time / 1000;
}
