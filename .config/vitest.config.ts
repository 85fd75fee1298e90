import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Tests that start the built service, brokers or a browser, kill them and wait for times to pass: one file after the other. */
const processTests = ['tests/faults/**/*.test.ts', 'tests/browser/**/*.test.ts', 'tests/cli/**/*.test.ts', 'tests/replay/through-service.test.ts', 'tests/containers/containers.test.ts'];

export default defineConfig({
  root: fileURLToPath(new URL('../', import.meta.url)),
  test: {
    testTimeout: 60_000,
    hookTimeout: 120_000,
    pool: 'forks',
    projects: [
      {
        extends: true,
        test: { name: 'parts', include: ['tests/**/*.test.ts'], exclude: processTests, maxWorkers: 2, sequence: { groupOrder: 0 } },
      },
      {
        extends: true,
        test: { name: 'processes', include: processTests, maxWorkers: 1, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
