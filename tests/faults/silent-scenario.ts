import { connect } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import type { Outcome } from './outcome.js';
import { residentMemory, scratchDir, startProcess } from './service-process.js';

/** MiB that silent connections may take: each has a socket and little else, and the threads that turn them away get warm. */
const mostGrowth = 150;
/** ms within which a carriage is let in and acknowledged beside them. The promise of ordinary days is less: this bound holds on a busy machine too. */
const answeredWithin = 10_000;

/** So many connections that never say a word are opened, and opened again when they are closed, while one carriage welds on and others come. */
export async function silentScenario(count: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  const problems: string[] = [];
  const state = { open: true, opened: 0, closed: 0, cutOff: false };
  try {
    const { mqtt: url } = await service.listening;
    const { hostname, port } = new URL(url);
    const send = (client: mqtt.MqttClient, name: string, seq: number): Promise<unknown> =>
      client.publishAsync(`weld/hall/${name}/readings`, JSON.stringify({ boot: 'b', seq, time: Date.now(), current: 600, voltage: 30 }), { qos: 1 });
    const welds = await mqtt.connectAsync(url, { clientId: 'welds', reconnectPeriod: 0 });
    welds.on('close', () => (state.cutOff = true));
    await send(welds, 'welds', 0);
    const before = residentMemory(service.pid);
    const silent = (): ReturnType<typeof connect> => {
      state.opened += 1;
      return connect(Number(port), hostname)
        .on('error', () => undefined)
        .once('close', () => {
          state.closed += 1;
          if (state.open) setTimeout(() => { if (state.open) sockets.push(silent()); }, 1_000);
        });
    };
    const sockets: ReturnType<typeof connect>[] = [];
    for (let made = 0; made < count; made += 1) sockets.push(silent());
    let slowest = 0;
    let memory = 0;
    // Past the 5 s in which a CONNECT is due, so that a second crowd has come.
    for (let second = 1; second <= 8; second += 1) {
      const begun = performance.now();
      const comes = await mqtt.connectAsync(url, { clientId: `comes-${second}`, reconnectPeriod: 0, connectTimeout: 20_000 });
      await Promise.all([send(comes, 'comes', second), send(welds, 'welds', second)]);
      slowest = Math.max(slowest, performance.now() - begun);
      memory = Math.max(memory, residentMemory(service.pid));
      await comes.endAsync();
      await wait(1_000);
    }
    state.open = false;
    if (state.cutOff) problems.push('the carriage that welds was cut off');
    if (slowest > answeredWithin) problems.push(`a carriage waited ${slowest.toFixed(0)} ms to be let in and acknowledged`);
    if (memory - before > mostGrowth) problems.push(`memory grew from ${before.toFixed(0)} to ${memory.toFixed(0)} MiB`);
    if (state.closed === 0) problems.push('no silent connection was closed');
    for (const socket of sockets) socket.destroy();
    await welds.endAsync();
    const counted = `${state.opened} silent connections, ${state.closed} of them closed; let in and acknowledged within ${slowest.toFixed(0)} ms; memory ${before.toFixed(0)} to ${memory.toFixed(0)} MiB`;
    return { scenario: 'silent connections', seed, counted, problems };
  } finally {
    state.open = false;
    await service.kill('SIGTERM');
    dir.remove();
  }
}
