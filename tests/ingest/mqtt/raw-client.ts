import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { generate, parser, type IConnectPacket, type IPublishPacket, type Packet } from 'mqtt-packet';
import { until } from './until.js';

/** A client that does nothing by itself: it can send what a well-behaved library never would, and shows every packet. */
export interface RawClient {
  readonly socket: Socket;
  readonly received: readonly Packet[];
  send(...packets: readonly Packet[]): void;
  /** Packet ids of the acknowledgements so far, in the order in which they came. */
  acknowledged(cmd?: 'puback' | 'pubrec'): readonly number[];
  closed(): boolean;
}

export async function rawClient(url: string, options: Partial<IConnectPacket> = {}): Promise<RawClient> {
  const { hostname, port } = new URL(url);
  const socket = connect(Number(port), hostname);
  await once(socket, 'connect');
  const received: Packet[] = [];
  const reader = parser();
  reader.on('packet', (packet) => received.push(packet));
  socket.on('data', (chunk) => reader.parse(chunk));
  socket.on('error', () => undefined);
  const send = (...packets: readonly Packet[]): void => {
    socket.write(Buffer.concat(packets.map((packet) => generate(packet))));
  };
  send({ cmd: 'connect', protocolId: 'MQTT', protocolVersion: 4, clean: true, clientId: 'raw', keepalive: 0, ...options });
  await until(() => received.some(({ cmd }) => cmd === 'connack'), 'CONNACK');
  return {
    socket,
    received,
    send,
    acknowledged: (cmd = 'puback') => received.filter((packet) => packet.cmd === cmd).map(({ messageId }) => messageId ?? -1),
    closed: () => socket.closed,
  };
}

export function publishPacket(topic: string, payload: string | Buffer, qos: 0 | 1 | 2, messageId?: number, retain = false): IPublishPacket {
  return { cmd: 'publish', topic, payload, qos, dup: false, retain, ...(messageId === undefined ? {} : { messageId }) };
}
