import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { generate } from 'mqtt-packet';
import { carriageName, payloads, site, type MessageKind } from './bench-messages.js';

export interface SendPlan {
  readonly port: number;
  readonly kind: MessageKind;
  readonly carriages: number;
  /** Of each carriage. */
  readonly count: number;
  /** Most messages of a carriage without PUBACK. */
  readonly window: number;
  /** Stops after that many seconds, whether everything was sent or not. */
  readonly seconds?: number;
}

export interface SendResult {
  readonly acknowledged: number;
  /** From the first message sent to the last PUBACK. */
  readonly seconds: number;
}

interface Encoded {
  readonly bytes: Buffer;
  /** Where each packet begins, and the end. */
  readonly offsets: readonly number[];
}

function encode(plan: SendPlan, index: number): Encoded {
  const packets: Buffer[] = [];
  const offsets = [0];
  const topic = `weld/${site}/${carriageName(index)}/readings`;
  let length = 0;
  for (const payload of payloads(plan.kind, index, plan.count, Date.now() - plan.count * 100)) {
    const packet = generate({ cmd: 'publish', topic, payload, qos: 1, dup: false, retain: false, messageId: (packets.length % 65_535) + 1 });
    packets.push(packet);
    offsets.push((length += packet.length));
  }
  return { bytes: Buffer.concat(packets), offsets };
}

async function openSocket(port: number, index: number): Promise<Socket> {
  const socket = connect({ port, host: '127.0.0.1', noDelay: true });
  await once(socket, 'connect');
  socket.write(generate({ cmd: 'connect', protocolId: 'MQTT', protocolVersion: 4, clean: true, clientId: `sender-${index}`, keepalive: 0 }));
  const [connack] = (await once(socket, 'data')) as [Buffer];
  if (connack.length !== 4 || connack[0] !== 0x20 || connack[3] !== 0) throw new Error(`the broker answered ${connack.toString('hex')} to CONNECT`);
  return socket;
}

/**
 * Carriages that cost next to nothing: every packet is encoded beforehand, and what the window leaves room for goes out in
 * one write. A client library would be the slowest part of what is measured.
 */
export async function queueSender(plan: SendPlan): Promise<() => Promise<SendResult>> {
  const carriages = await Promise.all(
    Array.from({ length: plan.carriages }, async (_, index) => ({ encoded: encode(plan, index), socket: await openSocket(plan.port, index) })),
  );
  return async () => {
    const begun = performance.now();
    const counts = await Promise.all(carriages.map(({ encoded, socket }) => send(encoded, socket, plan)));
    const seconds = (performance.now() - begun) / 1e3;
    for (const { socket } of carriages) socket.destroy();
    return { acknowledged: counts.reduce((sum, count) => sum + count, 0), seconds };
  };
}

function send({ bytes, offsets }: Encoded, socket: Socket, { window, seconds = Infinity }: SendPlan): Promise<number> {
  const until = performance.now() + seconds * 1e3;
  let most = offsets.length - 1;
  let sent = 0;
  let received = 0;
  return new Promise((resolve, reject) => {
    const go = (): void => {
      if (performance.now() > until) most = sent;
      const acknowledged = Math.floor(received / 4);
      if (acknowledged === most) {
        resolve(acknowledged);
        return;
      }
      const next = Math.min(most, acknowledged + window);
      if (next > sent) socket.write(bytes.subarray(offsets[sent], offsets[next]));
      sent = Math.max(sent, next);
    };
    socket.on('data', (chunk: Buffer) => {
      // Nothing was subscribed to, so everything that arrives is a PUBACK (MQTT 3.1.1, 3.4: 4 bytes that begin with 0x40).
      const first = (4 - (received % 4)) % 4;
      if (chunk.length > first && chunk[first] !== 0x40) reject(new Error(`the broker sent ${chunk.subarray(first, first + 8).toString('hex')} where a PUBACK was due`));
      received += chunk.length;
      go();
    });
    socket.once('error', reject);
    socket.once('close', () => { reject(new Error(`the broker closed the connection after ${Math.floor(received / 4)} PUBACKs`)); });
    go();
  });
}
