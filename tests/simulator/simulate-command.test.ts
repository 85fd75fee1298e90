import { spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';

function simulate(...options: string[]): { status: number | null; stdout: string; stderr: string } {
  const script = new URL('./run-simulate.ts', import.meta.url).pathname;
  return spawnSync(process.execPath, ['--import', 'tsx', script, ...options], { encoding: 'utf8' });
}

test('defaults', () => {
  const { status, stdout } = simulate();
  expect(status).toBe(0);
  expect(JSON.parse(stdout)).toEqual({ url: 'mqtt://127.0.0.1:1883', carriages: 4, rate: 10, block: null, seed: 1, speed: 1, scenarios: [] });
});

test('every option reaches the play', () => {
  const { stdout } = simulate('--broker', 'mqtts://127.0.0.1:8883', '--carriages=200', '--rate=2.5', '--block', '250', '--seed', '7', '--speed', '0.5', '--scenarios', 'ring,alternating');
  expect(JSON.parse(stdout)).toEqual({ url: 'mqtts://127.0.0.1:8883', carriages: 200, rate: 2.5, block: 250, seed: 7, speed: 0.5, scenarios: [{ scenario: 'ring', block: 250 }, { scenario: 'alternating', block: 250 }] });
});

test.each([
  [['--carriages', '201'], '--carriages: got "201", expected a whole number from 1 to 200'],
  [['--carriages', '2.5'], '--carriages: got "2.5", expected a whole number from 1 to 200'],
  [['--rate', 'fast'], '--rate: got "fast", expected a number from 1 to 100'],
  [['--block', '5'], '--block: got "5", expected a whole number from 10 to 1000'],
  [['--speed', '0'], '--speed: got "0", expected a number from 0.1 to 100'],
  [['--seed', ''], '--seed: got "", expected a whole number from 0 to 4294967295'],
  [['--broker', 'http://127.0.0.1'], '--broker: got "http://127.0.0.1", expected a broker address'],
  [['--scenarios', 'ring,rings'], '--scenarios: got "ring,rings", expected alternating, ring, extension separated by commas, all or none'],
  [['--colour', 'red'], "unknown option '--colour'"],
])('wrong usage %j ends with 2 and one line', (options, line) => {
  const { status, stdout, stderr } = simulate(...options);
  expect(status).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toContain(line);
  expect(stderr.trim().split('\n')).toHaveLength(1);
});
