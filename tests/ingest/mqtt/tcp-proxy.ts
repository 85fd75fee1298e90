import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';

/** How a network treats the connections that pass through it. */
export type Weather =
  | { readonly kind: 'clear' }
  /** Each connection is reset in the middle of a packet: after this many bytes of both directions together. */
  | { readonly kind: 'cut'; readonly after: () => number }
  /** Half open: the network acknowledges what is sent but delivers nothing, and reports no end. Such a connection never comes back. */
  | { readonly kind: 'swallow' }
  /** One way only: the broker no longer hears its clients, but they still get everything. */
  | { readonly kind: 'deaf' }
  | { readonly kind: 'slow'; readonly bytesPerSecond: number };

export interface TcpProxy {
  readonly url: string;
  /** Sets the weather for present and future connections. */
  set(weather: Weather): void;
  /** Breaks every connection with a reset, now. */
  cut(): void;
  /** How many connections were made, how many were cut, and how many had bytes swallowed. */
  counts(): { readonly made: number; readonly cut: number; readonly swallowed: number };
  stop(): Promise<void>;
}

/** How many parts a slow network lets through per second, 1/s. */
const parts = 20;

interface Passage {
  readonly near: Socket;
  readonly far: Socket;
  /** Bytes left until the connection is cut; null if it is not to be. */
  left: number | null;
  dead: boolean;
  deaf: boolean;
}

/** Forwards connections to a port of this machine through a network whose weather can be set. */
export async function tcpProxy(port: number): Promise<TcpProxy> {
  const open = new Set<Passage>();
  let weather: Weather = { kind: 'clear' };
  let [made, cut, swallowed] = [0, 0, 0];

  const budget = (): number | null => (weather.kind === 'cut' ? weather.after() : null);

  function cutOff(passage: Passage): void {
    if (!open.delete(passage)) return;
    cut += 1;
    passage.near.resetAndDestroy();
    passage.far.resetAndDestroy();
  }

  function pump(passage: Passage, from: Socket, to: Socket): void {
    const pass = (bytes: Buffer): void => {
      if (to.destroyed || to.write(bytes)) from.resume();
      else to.once('drain', () => from.resume());
    };
    const slowly = (bytes: Buffer): void => {
      if (weather.kind !== 'slow' || to.destroyed) {
        pass(bytes);
        return;
      }
      const part = Math.max(1, Math.floor(weather.bytesPerSecond / parts));
      if (passage.dead) return;
      to.write(bytes.subarray(0, part));
      if (bytes.length > part) setTimeout(slowly, 1_000 / parts, bytes.subarray(part));
      else from.resume();
    };
    from.on('data', (bytes: Buffer) => {
      if (weather.kind === 'swallow' && !passage.dead) {
        passage.dead = true;
        swallowed += 1;
      }
      if (weather.kind === 'deaf') passage.deaf = true;
      if (passage.dead || (passage.deaf && from === passage.near)) return;
      // One chunk at a time, so that nothing accumulates here.
      from.pause();
      if (passage.left !== null) {
        if (bytes.length >= passage.left) {
          to.write(bytes.subarray(0, passage.left), () => {
            cutOff(passage);
          });
          passage.left = 0;
          return;
        }
        passage.left -= bytes.length;
      }
      slowly(bytes);
    });
    from.on('end', () => {
      if (!passage.dead) to.end();
    });
    from.on('error', () => undefined);
    from.on('close', () => {
      if (passage.dead || to.destroyed) return;
      // An orderly end is passed on after all that was sent before it; only a break breaks the other side.
      if (!from.readableEnded) to.destroy();
    });
  }

  const server = createServer({ allowHalfOpen: true }, (near) => {
    made += 1;
    const far = connect({ port, host: '127.0.0.1', allowHalfOpen: true });
    const passage: Passage = { near, far, left: budget(), dead: false, deaf: false };
    open.add(passage);
    pump(passage, near, far);
    pump(passage, far, near);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    url: `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`,
    set: (next) => {
      weather = next;
      for (const passage of open) passage.left = budget();
    },
    cut: () => {
      for (const passage of open) cutOff(passage);
    },
    counts: () => ({ made, cut, swallowed }),
    async stop() {
      server.close();
      for (const { near, far } of open) {
        near.destroy();
        far.destroy();
      }
      await once(server, 'close');
    },
  };
}
