import { simulateCommand } from '../../services/cli/simulate-command.js';

// The real command with a play that only shows what it was asked for: run as a process of its own by the test.
await simulateCommand((play) => {
  const { url, carriages, rate, block, seed, speed, scenarios } = play;
  process.stdout.write(JSON.stringify({ url, carriages, rate, block, seed, speed, scenarios }));
  return Promise.resolve();
}).parseAsync();
