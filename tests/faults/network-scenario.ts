import { setTimeout as wait } from 'node:timers/promises';
import { startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { tcpProxy, type TcpProxy } from '../ingest/mqtt/tcp-proxy.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { itemCounts, until } from './ask-service.js';
import { endlessCarriages, itemsAcknowledged, judgedSite } from './endless-carriage.js';
import { judgeEnd } from './judge-end.js';
import type { Between } from './kill-loop.js';
import type { Outcome } from './outcome.js';
import { residentMemory, scratchDir, startProcess, freePort } from './service-process.js';
import { watchLead, type LeadWatch } from './watch-lead.js';

/** MiB that the service may grow by; its own bound on what is not acknowledged is 16 MiB. */
const mostGrowth = 192;
/** Sequence numbers that a carriage may be ahead of what is stored of it on an outside broker, which takes without end. */
const mostLead = 500;
/** s in which data must flow again after a fault: the service asks after 30 s of silence whether the broker is there (its keepalive), and waits up to 15 s between attempts. */
const mendsWithin = 120;

type Kind = 'cut' | 'swallow' | 'slow';

/** Mostly cuts. A half-open connection is noticed only when its keepalive has run out, which takes the service 45 s and a carriage here 3 s. */
function kindOf(fault: number, between: Between): Kind {
  if (fault % (between === 'outside broker' ? 25 : 5) === 1) return 'swallow';
  return fault % 5 === 2 ? 'slow' : 'cut';
}

/** Brings one fault about, and returns when it has shown. */
async function befall(proxy: TcpProxy, kind: Kind, random: Random): Promise<void> {
  const before = proxy.counts();
  if (kind === 'cut') {
    const cuts = random.whole(1, 4);
    proxy.set({ kind, after: () => random.whole(1, random.pick([40, 2_000, 60_000])) });
    await until(`${cuts} cut connections`, () => proxy.counts().cut >= before.cut + cuts, mendsWithin);
  } else if (kind === 'swallow') {
    proxy.set({ kind });
    await until('swallowed bytes', () => proxy.counts().swallowed > before.swallowed, mendsWithin);
    await wait(random.whole(100, 1_500));
  } else {
    proxy.set({ kind, bytesPerSecond: random.whole(1_000, 6_000) });
    await wait(random.whole(1_500, 4_000));
  }
  proxy.set({ kind: 'clear' });
}

/**
 * A network that cuts connections at random bytes, leaves them half open, and lets a few kB/s through: between the carriages and the
 * service's own broker, or between an outside broker and the service. Data must flow again after each fault by itself.
 */
export async function networkScenario(faults: number, seed: number, between: Between): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const broker = between === 'outside broker' ? await startMosquitto(['log_type none', 'log_type error']) : null;
  const mqttPort = broker?.port ?? (await freePort());
  const proxy = await tcpProxy(mqttPort);
  const service = startProcess(broker === null ? { dataDir: dir.path, mqttPort } : { dataDir: dir.path, env: { SEAMWARDEN_MQTT_URL: proxy.url } });
  const state = { finishing: false };
  const watch: LeadWatch | null = broker === null ? null : await watchLead(broker.url, judgedSite);
  const carriages = endlessCarriages(seed, () => state.finishing, (name) => ({ keepalive: 2, held: (newest) => watch !== null && !state.finishing && watch.lead(name, newest) > mostLead }));
  const problems: string[] = [];
  const done = new Map<Kind, number>();
  let growth = 0;
  try {
    const { http } = await service.listening;
    const direct = `mqtt://127.0.0.1:${mqttPort}`;
    const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => (broker === null ? proxy.url : direct))));
    const flows = async (after: string): Promise<void> => {
      const before = (await itemCounts(http)).stored;
      await until(`items to be stored after ${after}`, async () => (await itemCounts(http)).stored > before, mendsWithin);
    };
    await flows('the start');
    const memory = residentMemory(service.pid);
    const looking = setInterval(() => (growth = Math.max(growth, residentMemory(service.pid) - memory)), 200);
    try {
      for (let fault = 0; fault < faults; fault += 1) {
        const kind = kindOf(fault, between);
        await befall(proxy, kind, random);
        done.set(kind, (done.get(kind) ?? 0) + 1);
        await flows(`fault ${fault}, ${kind}`);
      }
    } finally {
      clearInterval(looking);
    }
    state.finishing = true;
    await sending;
    if (growth > mostGrowth) problems.push(`memory grew by ${growth.toFixed(0)} MiB; at most ${mostGrowth}`);
    problems.push(...(await judgeEnd(service, { http, mqtt: direct }, dir.path, carriages, mendsWithin)));
    const { cut, swallowed } = proxy.counts();
    const kinds = [...done].map(([kind, count]) => `${count} ${kind}`).join(', ');
    const counted = `${faults} faults (${kinds}; ${cut} connections cut, ${swallowed} half open), ${itemsAcknowledged(carriages).size} items acknowledged, memory +${growth.toFixed(0)} MiB`;
    return { scenario: `network, ${between}`, seed, counted, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
    await service.kill('SIGKILL');
    await watch?.close();
    await proxy.stop();
    await broker?.stop();
    dir.remove();
  }
}
