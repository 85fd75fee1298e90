import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { PrintedRun } from '../../services/cli/print-run.js';
import type { Run } from '../../shared/api-types/run.js';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'import-command-'));
  writeFileSync(join(folder, 'good.csv'), 'time,current,voltage\n0,600,30\n0.1,600,30\n');
  writeFileSync(join(folder, 'mixed.csv'), 'time,current,voltage\n0,600,30\n0.1,600,x3\n0.2,600,30\n');
  writeFileSync(join(folder, 'bad.csv'), 'time,current,voltage\nx,600,30\n');
  writeFileSync(join(folder, 'headless.csv'), '0,600,30\n');
  writeFileSync(join(folder, 'assignment.json'), '{"seam":"DK-0417/L2","run":3,"procedure":"SA-12","thickness":20}');
  writeFileSync(join(folder, 'wrong.json'), '{"seam":"DK-0417/L2","run":3,"direction":2}');
  writeFileSync(join(folder, 'list.json'), '[1]');
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function run(options: readonly string[], outcome = 'stored'): { status: number | null; stdout: string; stderr: string; request: unknown } {
  const requestFile = join(folder, 'request.json');
  rmSync(requestFile, { force: true });
  const script = new URL('./run-import.ts', import.meta.url).pathname;
  const done = spawnSync(process.execPath, ['--import', 'tsx', script, ...options.map((option) => option.replace('@', `${folder}/`))], {
    encoding: 'utf8',
    env: { ...process.env, REQUEST_FILE: requestFile, OUTCOME: outcome },
  });
  let request: unknown = null;
  try {
    request = JSON.parse(readFileSync(requestFile, 'utf8'));
  } catch {
    // The command ended before it asked.
  }
  return { ...done, request };
}

describe('what is asked', () => {
  test('a carriage without a site is at the site import, and without a seam the run is unassigned', () => {
    const { status, request } = run(['@good.csv', '--carriage', 'c7']);
    expect(status).toBe(0);
    expect(request).toEqual({ site: 'import', carriage: 'c7', assignment: null, start: null, file: 'good.csv', by: userInfo().username });
  });

  test('options override the assignment file', () => {
    const { request } = run([
      '@good.csv', '--carriage', 'hall-b/c2', '--assignment', '@assignment.json', '--run', '4', '--procedure', 'SA-13', '--start', '2026-11-25T06:00:00.5Z', '--by', 'op-07',
    ]);
    expect(request).toEqual({
      site: 'hall-b',
      carriage: 'c2',
      assignment: { seam: 'DK-0417/L2', run: 4, procedure: 'SA-13', thickness: 20 },
      start: Date.UTC(2026, 10, 25, 6, 0, 0, 500),
      file: 'good.csv',
      by: 'op-07',
    });
  });

  test('start is accepted as Unix ms too', () => {
    const { request } = run(['@good.csv', '--carriage', 'c1', '--start', '1795590000000']);
    expect(request).toMatchObject({ start: 1795590000000 });
  });
});

describe('what is printed', () => {
  test('the run, why figures are absent, the counts, and each bad line on stderr', () => {
    const { status, stdout, stderr } = run(['@mixed.csv', '--carriage', 'c1', '--seam', 'S/1', '--run', '2', '--start', '1795590000000']);
    // The others are stored, yet a part of what was asked has failed.
    expect(status).toBe(1);
    expect(stderr).toBe('line 3: voltage "x3": expected a number from -500 to 500 (V)\nerror: 1 of 3 lines rejected, listed above; the others are stored\n');
    expect(stdout).toContain('S/1 run 2, attempt 1');
    expect(stdout).toMatch(/arc time +1\.3 s|arc time +1\.2 s/);
    expect(stdout).toMatch(/length +absent: no travel was sent/);
    expect(stdout).toMatch(/arc 1 +600\.0 A, 30\.00 V on average/);
    expect(stdout).toContain('incomplete: data is missing');
    expect(stdout).toContain('2 readings stored, 0 already present, 1 of 3 lines rejected');
    expect(stdout).toContain('It is not a safety device');
  });

  test('as JSON, and nothing else on stdout', () => {
    const { stdout } = run(['@mixed.csv', '--carriage', 'c1', '--json']);
    const refused = [{ line: 3, reason: 'voltage "x3": expected a number from -500 to 500 (V)' }];
    // The run itself, as the API gives it, and beside its fields what the import came to.
    expect(JSON.parse(stdout)).toMatchObject({ id: 'r1', carriage: 'c1', energy: 18, import: { runs: ['r1'], stored: 2, duplicate: 0, lines: 3, refusedLines: 1, refused } });
  });

  test('a log whose times count from 1970 is pointed out', () => {
    expect(run(['@good.csv', '--carriage', 'c1']).stderr).toContain('--start says when its zero was');
    expect(run(['@good.csv', '--carriage', 'c1', '--start', '1795590000000']).stderr).toBe('');
  });

  test('one reading is one reading', () => {
    writeFileSync(join(folder, 'one.csv'), 'time (s),current [A],Voltage (V)\n0,600,30\n');
    expect(run(['@one.csv', '--carriage', 'c1']).stdout).toContain('\n1 reading stored, 0 already present\n');
  });

  test('a weld of which nothing was judged is not called free of excursions', () => {
    const unknown = run(['@good.csv', '--carriage', 'c1', '--seam', 'S', '--run', '1', '--procedure', 'NOPE', '--start', '1795590000000']);
    expect(unknown.stdout).toMatch(/excursions +not judged: procedure NOPE does not exist/);
    expect(unknown.stderr).toBe('warning: nothing was judged: procedure NOPE does not exist\n');
    expect(unknown.status).toBe(0);
  });

  test('the same log again is no failure', () => {
    const { status, stdout } = run(['@good.csv', '--carriage', 'c1'], 'again');
    expect(status).toBe(0);
    expect(stdout).toContain('This log was imported before and nothing was changed: 0 readings stored, 2 already present');
  });
});

test.each([
  [['@bad.csv', '--carriage', 'c1'], 'stored', ['error: nothing imported: the log holds no line that can be used']],
  [['@headless.csv', '--carriage', 'c1'], 'stored', ['error: nothing imported: header "0, 600, 30": has no time, current, voltage']],
  [['@none.csv', '--carriage', 'c1'], 'stored', ['none.csv: cannot be read']],
  [['@good.csv', '--carriage', 'c1'], 'storage', ['error: nothing imported: the disk is full']],
  [['@good.csv', '--carriage', 'c1', '--assignment', '@none.json'], 'stored', ['--assignment: ', 'none.json: cannot be read']],
])('%j ends with 1', (options, outcome, lines) => {
  const { status, stderr } = run(options, outcome);
  expect(status).toBe(1);
  for (const line of lines) expect(stderr).toContain(line);
});

test.each([
  [['@good.csv'], "required option '--carriage <CARRIAGE>' not specified"],
  [['--carriage', 'c1'], "missing required argument 'FILE'"],
  [['@good.csv', '--carriage', 'a/b/c'], '--carriage: got "a/b/c", expected site/carriage or a carriage'],
  [['@good.csv', '--carriage', 'hall a'], '--carriage: got "hall a", expected'],
  [['@good.csv', '--carriage', 'c1', '--run', '0'], '--run: got "0", expected a whole number from 1 to 9999'],
  [['@good.csv', '--carriage', 'c1', '--start', 'noon'], '--start: got "noon", expected Unix milliseconds or RFC 3339 text'],
  [['@good.csv', '--carriage', 'c1', '--seam', 'S/1'], '--run: missing; expected: an integer from 1 to 9999'],
  [['@good.csv', '--carriage', 'c1', '--procedure', 'SA-12'], '--seam: missing; expected: text'],
  [['@good.csv', '--carriage', 'c1', '--assignment', '@wrong.json'], 'wrong.json: direction: got 2; expected: 1, -1'],
  [['@good.csv', '--carriage', 'c1', '--assignment', '@list.json'], 'expected a file that holds one JSON object'],
])('%j is wrong usage and ends with 2 and one line', (options, line) => {
  const { status, stdout, stderr, request } = run(options);
  expect(status).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toContain(line);
  expect(stderr.trim().split('\n')).toHaveLength(1);
  expect(request).toBeNull();
});

test('the usage shows what is required, and the help every unit', () => {
  const { stdout } = run(['--help']);
  expect(stdout).toContain('<FILE> --carriage <CARRIAGE> [options]');
  expect(stdout).toMatch(/travelSpeed\s+\(mm\/min\)/);
});

test('the API form of a run can be printed', () => {
  const asPrinted = (run: Run): PrintedRun => run;
  expect(asPrinted).toBeTypeOf('function');
});
