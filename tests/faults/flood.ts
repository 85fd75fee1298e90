import { connect, type Socket } from 'node:net';
import { generate } from 'mqtt-packet';

export interface Flood {
  /** MiB that the sockets took so far, and the number of connections made. */
  pushed(): number;
  connections(): number;
  stop(): void;
}

/** Clients that send as fast as their sockets take it, wait for nothing, and come back under a new connection again and again. */
export function startFlood(url: string, site: string, clients: number, stayFor = 700): Flood {
  const { hostname, port } = new URL(url);
  const values = Array.from({ length: 10_000 }, (_, k) => 600 + (k % 50));
  let bytes = 0;
  let connections = 0;
  let seq = 0;
  let stopped = false;
  const open = new Set<Socket>();

  function visit(client: number): void {
    if (stopped) return;
    connections += 1;
    const socket = connect(Number(port), hostname);
    open.add(socket);
    let messageId = 0;
    const push = (): void => {
      for (;;) {
        if (socket.destroyed) return;
        seq += 1;
        messageId = (messageId % 65_535) + 1;
        const block = { boot: 'f', seq, time: Date.UTC(2026, 10, 2) + seq * 10_000, interval: 1, current: values, voltage: 30 };
        const packet = generate({ cmd: 'publish', topic: `weld/${site}/flood${client}/readings`, payload: JSON.stringify(block), qos: 1, dup: false, retain: false, messageId });
        const room = socket.write(packet, () => (bytes += packet.length));
        if (!room) return;
      }
    };
    socket.on('connect', () => {
      socket.write(generate({ cmd: 'connect', protocolId: 'MQTT', protocolVersion: 4, clean: true, clientId: `flood-${client}-${connections}`, keepalive: 0 }));
      push();
    });
    socket.on('drain', push);
    socket.on('data', () => undefined);
    socket.on('error', () => undefined);
    socket.on('close', () => {
      open.delete(socket);
      setTimeout(visit, 50, client);
    });
    setTimeout(() => socket.destroy(), stayFor * (0.5 + Math.random()));
  }

  for (let client = 0; client < clients; client += 1) visit(client);
  return {
    pushed: () => bytes / 1024 / 1024,
    connections: () => connections,
    stop: () => {
      stopped = true;
      for (const socket of open) socket.destroy();
    },
  };
}
