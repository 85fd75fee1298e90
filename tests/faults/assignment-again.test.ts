import mqtt from 'mqtt';
import { expect, it } from 'vitest';
import { expectAccounted } from '../ingest/accounted.js';
import { hasMosquitto, startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { tcpProxy } from '../ingest/mqtt/tcp-proxy.js';
import { awaitMark, expectedMark, runsOf, until } from './ask-service.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'again';
const carriage = 'c1';

it.skipIf(!hasMosquitto)('takes an assignment once whose PUBACK was lost, although others were in force since', async () => {
  const dir = scratchDir();
  const broker = await startMosquitto(['log_type none', 'log_type error']);
  const proxy = await tcpProxy(broker.port);
  const service = startProcess({ dataDir: dir.path, env: { SEAMWARDEN_MQTT_URL: proxy.url } });
  try {
    const { http } = await service.listening;
    const client = await mqtt.connectAsync(broker.url, { clientId: 'welds' });
    const publish = (kind: string, payload: string): Promise<unknown> => client.publishAsync(`weld/${site}/${carriage}/${kind}`, payload, { qos: 1 });
    let seq = -1;
    const weld = async (readings: number): Promise<void> => {
      for (let k = 0; k < readings; k += 1) {
        seq += 1;
        await publish('readings', JSON.stringify({ boot: 'b1', seq, time: Date.UTC(2026, 10, 2, 12) + seq * 100, current: 600, voltage: 30, travelSpeed: 550 }));
      }
    };
    const samples = async (): Promise<(string | number | null | undefined)[][]> => (await runsOf(http, site, carriage)).map(({ seam, attempt, arcs }) => [seam, attempt, arcs[0]?.samples]);
    // From now on the broker hears no acknowledgement. It is the network that loses them: the service has stored and acknowledged all this.
    proxy.set({ kind: 'deaf' });
    await publish('assignment', JSON.stringify({ seam: 'A', run: 1 }));
    await weld(50);
    await publish('assignment', '');
    await publish('assignment', JSON.stringify({ seam: 'B', run: 1 }));
    await weld(50);
    await until('both runs', async () => (await samples()).length === 2, 30);
    // A broker sends all of that again on the next connection (MQTT 3.1.1, 4.4), marked as DUP (3.3.1.1).
    proxy.set({ kind: 'clear' });
    proxy.cut();
    await weld(50);
    await publish('assignment', '');
    await awaitMark(broker.url, site, carriage, [expectedMark('b1', Array.from({ length: seq + 1 }, (_, own) => own))], 60);
    await until('finished runs', async () => (await runsOf(http, site, carriage)).every(({ state }) => state === 'finished'), 60);
    await client.endAsync();
    expect(await samples()).toEqual([
      ['A', 1, 50],
      ['B', 1, 100],
    ]);
    await service.kill('SIGTERM');
    expectAccounted(dir.path);
  } finally {
    await service.kill('SIGKILL');
    await proxy.stop();
    await broker.stop();
    dir.remove();
  }
});
