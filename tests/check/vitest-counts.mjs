import { readFileSync } from 'node:fs';
import { relative } from 'node:path';

/** The first lines of what a runner said, without its own places: enough to see what was expected, what came, and where. */
const firstLines = (text) => text.split('\n').filter((line) => !line.includes('/node_modules/')).slice(0, 12).join('\n');

/**
 * Counts from the report that Vitest's JSON reporter wrote, with each failure and its first lines. A file that failed outside any
 * of its tests (an import, a hook) counts as one failure. Without a report, or where it names no test, the run has failed.
 */
export function vitestCounts(file, reason) {
  let report;
  try {
    report = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    return { passed: 0, failed: 1, skipped: 0, note: reason ?? `the runner left no report (${error.message})` };
  }
  const counts = { passed: 0, failed: 0, skipped: 0, note: reason, failures: [] };
  for (const { name, status, message, assertionResults } of report.testResults) {
    for (const test of assertionResults) {
      if (test.status === 'passed') counts.passed += 1;
      else if (test.status === 'failed') {
        counts.failed += 1;
        counts.failures.push(`${relative('', name)} > ${test.fullName}\n${firstLines(test.failureMessages.join('\n'))}`);
      } else counts.skipped += 1;
    }
    if (status === 'failed' && !assertionResults.some((test) => test.status === 'failed')) {
      counts.failed += 1;
      counts.failures.push(`${relative('', name)}\n${firstLines(message)}`);
    }
  }
  // The runner also reports errors (one that no test caught, a limit exceeded) that belong to no test.
  if (reason !== null && counts.failed === 0) counts.failed = 1;
  if (counts.passed + counts.failed === 0) return { ...counts, failed: 1, note: 'the runner found no test' };
  return counts;
}
