import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';

/**
 * A way to a broker that asks for a clean session whatever the client asks for: behind it every session ends with its
 * connection, as at brokers that keep none.
 */
export async function forgetfulProxy(port: number): Promise<{ readonly url: string; stop(): Promise<void> }> {
  const open = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(port, '127.0.0.1');
    for (const [from, to] of [[near, far], [far, near]] as const) {
      open.add(from);
      from.on('error', () => undefined);
      from.on('close', () => to.destroy());
    }
    near.once('data', (connectPacket: Buffer) => {
      far.write(cleanSession(connectPacket));
      near.pipe(far);
    });
    far.pipe(near);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    url: `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`,
    async stop() {
      server.close();
      for (const socket of open) socket.destroy();
      await once(server, 'close');
    },
  };
}

/** Sets the clean-session bit of a CONNECT (MQTT 3.1.1, 3.1.2.3: byte 8 of the variable header, bit 1). */
function cleanSession(bytes: Buffer): Buffer {
  const copy = Buffer.from(bytes);
  // The remaining length takes a second byte from 128 on (2.2.3).
  const header = (copy[1] ?? 0) < 0x80 ? 2 : 3;
  copy[header + 7] = (copy[header + 7] ?? 0) | 0x02;
  return copy;
}
