import { setTimeout as wait } from 'node:timers/promises';
import { createCarriagePlayer } from '../../services/simulator/carriage-player.js';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { bootOf, carriageMessages, type Sending } from '../../services/simulator/simulated-carriage.js';
import { awaitMark, expectedMark } from '../faults/ask-service.js';
import { identityOf, keptItems, type SentItem } from '../faults/kept-items.js';
import type { Outcome } from '../faults/outcome.js';
import { signalContainer, startAgain, stopContainer, withDataOf, type Containers } from './start-containers.js';

/** Simulated time is `pace` times as fast as the clock. */
const pace = 4;
const carriageCount = 3;

/**
 * Kills the broker's container while carriages send and starts it again; they keep what the `stored` mark has not passed and
 * send it again. What they had to send follows from the seed alone, so it is counted beside them.
 */
export async function brokerKillScenario(containers: Containers, seed: number): Promise<Outcome> {
  const broker = await containers.broker();
  const service = await containers.service(broker.serviceUrl);
  const sending: Sending = { rate: 10, block: null, seed, start: Date.now() };
  const indexes = Array.from({ length: carriageCount }, (_, place) => place + 1);
  const players = indexes.map((index) => createCarriagePlayer(broker.carriagesUrl, planCarriage(index, seed), sending, () => undefined));
  const begun = performance.now();
  const simulated = (): number => (performance.now() - begun) * pace;
  let until = Number.POSITIVE_INFINITY;
  const timer = setInterval(() => {
    for (const player of players) player.advance(Math.min(simulated(), until));
  }, 20);
  try {
    await wait(3_000);
    // Before it has written its sessions for the first time: it comes back knowing nothing.
    await signalContainer(broker.container);
    await wait(1_000);
    await startAgain(broker.container);
    await wait(4_000);
    // SIGUSR1 has it write them now (mosquitto(8)): it comes back with the session as it was 2 s ago.
    await signalContainer(broker.container, 'SIGUSR1');
    await wait(2_000);
    await signalContainer(broker.container);
    await startAgain(broker.container);
    // A carriage sends an acknowledged item again 10 s after that where the mark says that it is missing.
    await wait(14_000);
    until = simulated();
    const sent = indexes.map((index) => itemsUntil(index, sending, until));
    for (const [at, index] of indexes.entries()) {
      const plan = planCarriage(index, seed);
      await awaitMark(broker.carriagesUrl, plan.site, plan.carriage, [expectedMark(bootOf(plan, sending), sent[at]?.map(({ seq }) => seq) ?? [])], 60);
    }
    await stopContainer(service.container);
    const problems = await withDataOf(service.container, (dataDir) => indexes.flatMap((index, at) => compare(dataDir, index, seed, sent[at] ?? [])));
    return { scenario: 'broker killed', seed, counted: `2 kills, ${sent.flat().length} items sent`, problems };
  } finally {
    clearInterval(timer);
    await Promise.all(players.map((player) => player.stop()));
  }
}

/** All items that a carriage has to send until a moment. */
function itemsUntil(index: number, sending: Sending, until: number): SentItem[] {
  const items: SentItem[] = [];
  for (const message of carriageMessages(planCarriage(index, sending.seed), sending)) {
    if (message.at > until) return items;
    if (message.seq === null) continue;
    const payload = JSON.parse(message.payload) as SentItem | SentItem[];
    items.push(...(Array.isArray(payload) ? payload : [payload]));
  }
  return items;
}

/** What is lost, there twice, changed, or was never sent, a line each. */
function compare(dataDir: string, index: number, seed: number, sent: readonly SentItem[]): string[] {
  const { site, carriage } = planCarriage(index, seed);
  const kept = new Map([...keptItems(dataDir, site)].filter(([key]) => key.startsWith(`${site}/${carriage} `)));
  const wrong = sent.flatMap((item) => {
    const key = identityOf(site, carriage, item);
    const copies = kept.get(key) ?? [];
    kept.delete(key);
    if (copies.length !== 1) return [`${key} is stored ${copies.length} times`];
    return copies[0] === JSON.stringify(item) ? [] : [`${key} was changed`];
  });
  return [...wrong, ...[...kept.keys()].map((key) => `${key} was never sent`)];
}
