import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Tests of the built service's pages: three files at a time, since each waits now and then. */
const pageTests = ['tests/browser/**/*.test.ts'];
/** Tests that measure memory and delays: one file after the other, with nothing beside it. */
const measuredTests = ['busy', 'hostile', 'import-load', 'neglect', 'open-run', 'silent'].map((name) => `tests/faults/${name}.test.ts`);
/** Tests most of whose time is waiting until something is back or has run out: they kill services and brokers, fill disks, cut connections. Four files at a time. */
const processTests = ['tests/faults/**/*.test.ts', 'tests/cli/**/*.test.ts', 'tests/replay/through-service.test.ts', 'tests/containers/containers.test.ts', 'tests/ingest/mqtt/embedded-bounds.test.ts'];

export default defineConfig({
  root: fileURLToPath(new URL('../', import.meta.url)),
  test: {
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // What a test waits for may take as long as a busy machine needs.
    expect: { poll: { timeout: 10_000 } },
    pool: 'forks',
    // Files follow each other in the same few processes, which saves a third of their time; a file leaves nothing behind in what it imports.
    isolate: false,
    projects: [
      {
        extends: true,
        test: { name: 'parts', include: ['tests/**/*.test.ts'], exclude: [...pageTests, ...processTests], maxWorkers: 2, sequence: { groupOrder: 0 } },
      },
      {
        extends: true,
        test: { name: 'pages', include: pageTests, maxWorkers: 3, sequence: { groupOrder: 1 } },
      },
      {
        extends: true,
        // Four files share two cores with types and lint: a test may take long without being wrong.
        test: { name: 'processes', include: processTests, exclude: measuredTests, maxWorkers: 4, testTimeout: 300_000, sequence: { groupOrder: 2 } },
      },
      {
        extends: true,
        test: { name: 'measured', include: measuredTests, maxWorkers: 1, sequence: { groupOrder: 3 } },
      },
    ],
  },
});
