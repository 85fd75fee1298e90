import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { basename } from 'node:path';
import { Command } from 'commander';
import type { ImportAnswer, ImportRequest, PortFailure } from '../ingest-port.js';
import { largestLog } from '../csv/csv-log.js';
import { readDeviceTime, timeTaken } from '../../shared/weld/decode/device-time.js';
import { readAssignmentOptions, type AssignmentOptions } from './assignment-options.js';
import { printRun, type PrintedRun } from './print-run.js';
import { caution, exitCodes, exitOnWrongUsage, numberOption, readNumber, wrongUsage } from './usage.js';

/** What the command prints after an import: the answer, and the API form of the runs it names. */
export interface ImportOutcome {
  readonly answer: ImportAnswer | PortFailure;
  readonly runs: readonly PrintedRun[];
}

interface ImportOptions extends AssignmentOptions {
  readonly carriage: string;
  readonly start?: number;
  readonly by?: string;
  readonly json?: true;
}

/** `import FILE`: hands a CSV log, by its path, to `run`, prints its answer and the runs, and sets the exit code. */
export function importCommand(run: (request: ImportRequest, file: string) => Promise<ImportOutcome>): Command {
  const command = new Command('import');
  command
    .usage('<FILE> --carriage <CARRIAGE> [options]')
    .description('import a CSV log of one run; importing the same file again changes nothing')
    .argument('<FILE>', 'CSV with the columns time (s, or a timestamp), current (A), voltage (V) and, if recorded, travelSpeed (mm/min), wireFeedSpeed (m/min), travel (mm), plateTemperature (°C), arc')
    .requiredOption('--carriage <CARRIAGE>', 'required: site/carriage, or a carriage alone (its site is then "import")')
    .option('--seam <NAME>', 'seam that was welded')
    .option('--run <N>', 'run number on that seam', numberOption(command, '--run', 1, 9999, 'whole'))
    .option('--procedure <ID>', 'procedure it was welded to')
    .option('--assignment <FILE.json>', 'a job (assignment) as over MQTT; options on the command line override it')
    .option('--start <TIME>', 'date and time of zero, for a log with relative times: RFC 3339 or Unix ms', (text) => startTime(command, text))
    .option('--by <NAME>', 'who imports it (default: the user logged in on this machine)')
    .option('--json', 'print the answer as JSON')
    .allowExcessArguments(false)
    .action(async (file: string, options: ImportOptions) => {
      const [site, carriage] = carriageName(command, options.carriage);
      const assignment = await readAssignmentOptions(command, options);
      if (!(await isReadable(file))) return;
      const outcome = await run({ site, carriage, assignment, start: options.start ?? null, file: basename(file), by: options.by ?? userName() }, file);
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
  const untold = answer.refusedLines - answer.refused.length;
  if (untold > 0) process.stderr.write(`and ${untold} more lines\n`);
  if (options.json === true) {
    const [run, ...further] = runs;
    process.stdout.write(`${JSON.stringify({ ...run, import: answer, ...(further.length > 0 ? { further } : {}) }, null, 2)}\n`);
  } else {
    process.stdout.write(runs.map((each) => `${printRun(each)}\n`).join('\n'));
    process.stdout.write(`${counts(answer)}\n${caution}\n`);
  }
  for (const note of notes(answer, runs, options)) process.stderr.write(`${note}\n`);
  if (answer.refusedLines > 0) fail(`error: ${answer.refusedLines} of ${plural(answer.lines, 'line')} rejected, listed above; the others are stored`);
}

function counts({ stored, duplicate, lines, refusedLines }: ImportAnswer): string {
  const readings = lines - refusedLines;
  const rejected = refusedLines === 0 ? '' : `, ${refusedLines} of ${plural(lines, 'line')} rejected`;
  if (stored === 0 && duplicate > 0) return `This log was imported before and nothing was changed: 0 readings stored, ${readings} already present${rejected}`;
  return `${plural(readings, 'reading')} stored, 0 already present${rejected}`;
}

function plural(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** Things that the importer should look at. */
function notes(answer: ImportAnswer, runs: readonly PrintedRun[], options: ImportOptions): string[] {
  const found: string[] = [];
  if (options.start === undefined && runs.some((each) => each.startedAt.startsWith('1970-'))) {
    found.push('note: the times of the log are relative and count from 1970-01-01; --start says when its zero was');
  }
  const unknown = runs.find((each) => each.notJudged === 'procedureUnknown');
  if (unknown !== undefined) found.push(`warning: nothing was judged: procedure ${unknown.assignment?.procedure ?? ''} does not exist`);
  for (const { reason, run, site, carriage, seam, runNumber } of answer.also) {
    const named = `${seam === null ? 'an unassigned run' : `${seam} run ${runNumber ?? '?'}`} (${run}) of ${site}/${carriage}`;
    found.push(reason === 'sameLog' ? `warning: the same log is stored as ${named} too` : `warning: the time of this log overlaps with ${named}; both are kept`);
  }
  return found;
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

/** Whether the log can be read and is not too large; if not, this prints why and sets the exit code. */
async function isReadable(file: string): Promise<boolean> {
  try {
    await access(file, constants.R_OK);
    const { size } = await stat(file);
    if (size <= largestLog) return true;
    fail(`error: ${file}: has ${size} bytes, expected at most ${largestLog} (256 MiB)`);
  } catch (error) {
    fail(`error: ${file}: cannot be read (${error instanceof Error ? error.message : String(error)})`);
  }
  return false;
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
