import { readFileSync } from 'node:fs';

/**
 * Counts from the report that Vitest's JSON reporter wrote. A file that failed outside any of its tests (an import, a hook)
 * counts as one failure. Without a report, or where it names no test, the run has failed.
 */
export function vitestCounts(file, reason) {
  let report;
  try {
    report = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    return { passed: 0, failed: 1, skipped: 0, note: reason ?? `the runner left no report (${error.message})` };
  }
  const counts = { passed: 0, failed: 0, skipped: 0, note: reason };
  for (const { status, assertionResults } of report.testResults) {
    for (const test of assertionResults) {
      if (test.status === 'passed') counts.passed += 1;
      else if (test.status === 'failed') counts.failed += 1;
      else counts.skipped += 1;
    }
    if (status === 'failed' && !assertionResults.some((test) => test.status === 'failed')) counts.failed += 1;
  }
  // The runner also reports errors (one that no test caught, a limit exceeded) that belong to no test.
  if (reason !== null && counts.failed === 0) counts.failed = 1;
  if (counts.passed + counts.failed === 0) return { ...counts, failed: 1, note: 'the runner found no test' };
  return counts;
}
