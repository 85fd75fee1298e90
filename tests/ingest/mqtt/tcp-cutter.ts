import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';

export interface TcpCutter {
  readonly url: string;
  /** Breaks every connection with a reset. */
  cut(): void;
  /** While `on`, new connections are broken at once. */
  refuse(on: boolean): void;
  connections(): number;
  stop(): Promise<void>;
}

/** Forwards connections to a port of this machine, and breaks them on request: a network that fails. */
export async function tcpCutter(port: number): Promise<TcpCutter> {
  const open = new Set<Socket>();
  let refusing = false;
  let connections = 0;
  const server = createServer({ allowHalfOpen: true }, (near) => {
    if (refusing) {
      near.resetAndDestroy();
      return;
    }
    connections += 1;
    const far = connect({ port, host: '127.0.0.1', allowHalfOpen: true });
    for (const [from, to] of [[near, far], [far, near]] as const) {
      open.add(from);
      from.on('error', () => undefined);
      from.on('close', () => {
        open.delete(from);
        // The pipe passes on an orderly end, after all that was sent before it; only a break breaks the other side.
        if (!from.readableEnded) to.destroy();
      });
      from.pipe(to);
    }
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const cut = (): void => {
    for (const socket of open) socket.resetAndDestroy();
  };
  return {
    url: `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`,
    cut,
    refuse: (on) => (refusing = on),
    connections: () => connections,
    async stop() {
      server.close();
      cut();
      await once(server, 'close');
    },
  };
}
