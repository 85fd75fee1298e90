import { growthOf, playFloor } from './play-floor.js';

/** More growth than this over a third of the hour is a leak; what is left of it are tables that the engine enlarges once. */
const most = 0.03;

/** An hour of the floor page with 50 carriages at 5 events a second, ten times as fast as a clock: `npx tsx tests/browser/hour-of-floor.ts [seconds] [speed]`, after `npm run build`. */
async function hourOfFloor(): Promise<void> {
  const seconds = Number(process.argv[2] ?? 3600);
  const speed = Number(process.argv[3] ?? 10);
  const say = (cells: readonly string[]): void => {
    process.stdout.write(`${cells.map((cell, at) => cell.padStart(at === 0 ? 8 : 12)).join('')}\n`);
  };
  say(['s', 'events', 'heap kB', 'DOM nodes', 'listeners']);
  const begun = Date.now();
  const samples = await playFloor({
    seconds,
    speed,
    carriages: 50,
    rate: 5,
    samples: 30,
    told: ({ at, events, heap, nodes, listeners }) => {
      say([at.toFixed(0), String(events), (heap / 1000).toFixed(0), String(nodes), String(listeners)]);
    },
  });
  const growth = { heap: growthOf(samples.map(({ heap }) => heap)), nodes: growthOf(samples.map(({ nodes }) => nodes)), listeners: growthOf(samples.map(({ listeners }) => listeners)) };
  const took = (Date.now() - begun) / 1000;
  process.stdout.write(`played ${seconds} s in ${took.toFixed(0)} s; last third over second third: ${Object.entries(growth).map(([name, value]) => `${name} ${(value * 100).toFixed(1)} %`).join(', ')}\n`);
  const grown = Object.entries(growth).filter(([, value]) => !(value <= most));
  if (grown.length > 0) {
    process.stderr.write(`grows: ${grown.map(([name]) => name).join(', ')}\n`);
    process.exitCode = 1;
  }
}

await hourOfFloor();
