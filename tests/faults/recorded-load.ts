import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { publishPacket, rawClient } from '../ingest/mqtt/raw-client.js';
import { seededRandom } from '../model/seeded-random.js';
import { until } from './ask-service.js';
import { carriagePlan, planStyles, type PlannedMessage } from './carriage-plan.js';
import { judgedSite } from './endless-carriage.js';
import { identityOf, type SentItem } from './kept-items.js';
import { recordedFiles, type FileCall } from './recorded-files.js';
import { scratchDir, startProcess } from './service-process.js';

export interface RecordedLoad {
  readonly dataDir: string;
  readonly calls: readonly FileCall[];
  /** The items of every message, by the packet id that only this one message has; identity and JSON. */
  readonly items: ReadonlyMap<number, ReadonlyMap<string, string>>;
}

/** Packet ids that MQTT has (3.1.1, 2.3.1): each is used once, so a PUBACK on any connection tells which message it is for. */
const mostMessages = 65_535;
/** Messages of one carriage on their way. */
const window = 40;

/** Lets carriages send to a service whose calls are recorded, from its first start on an empty folder to its orderly end. */
export async function recordLoad(messages: number, seed: number): Promise<RecordedLoad> {
  if (messages > mostMessages) throw new RangeError(`${messages} messages: one record takes at most ${mostMessages}`);
  const dir = scratchDir();
  const dataDir = join(dir.path, 'data');
  mkdirSync(dataDir);
  const record = recordedFiles(dir.path, dataDir);
  const service = startProcess({ dataDir, env: record.env });
  const items = new Map<number, ReadonlyMap<string, string>>();
  try {
    const { mqtt } = await service.listening;
    let newest = 0;
    const send = async (style: (typeof planStyles)[number], index: number): Promise<void> => {
      const carriage = `${style}-1`;
      const plan = carriagePlan(`seam-${carriage}`, style, seededRandom(seed + index));
      const client = await rawClient(mqtt, { clientId: `recorded-${carriage}` });
      let sent = 0;
      // The CONNACK came first; all else that a client without a subscription gets are PUBACKs.
      const open = (): number => sent - (client.received.length - 1);
      const publish = async ({ kind, payload, items: own }: PlannedMessage): Promise<void> => {
        await until('PUBACKs', () => open() < (kind === 'assignment' ? 1 : window));
        newest += 1;
        items.set(newest, new Map(own.map((item: SentItem) => [identityOf(judgedSite, carriage, item), JSON.stringify(item)])));
        sent += 1;
        client.send(publishPacket(`weld/${judgedSite}/${carriage}/${kind}`, payload, 1, newest));
        if (kind === 'assignment') await until('the PUBACK of an assignment', () => open() === 0);
      };
      while (newest < messages) for (const message of plan().messages) if (newest < messages) await publish(message);
      await until('the last PUBACKs', () => open() === 0);
      client.socket.destroy();
    };
    await Promise.all(planStyles.map(send));
    await service.kill('SIGTERM');
    return { dataDir, calls: record.calls(), items };
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
}

/** The packet ids in the PUBACKs of each `send`, read as MQTT clients read them; other sockets are left alone. */
export function pubackReader(): (path: string, bytes: Buffer) => number[] {
  const streams = new Map<string, Buffer | null>();
  return (path, bytes) => {
    const before = streams.get(path);
    // A broker's first packet is a CONNACK (3.1.1, 3.2): 0x20.
    if (before === null || (before === undefined && bytes[0] !== 0x20)) {
      streams.set(path, null);
      return [];
    }
    let rest = before === undefined ? bytes : Buffer.concat([before, bytes]);
    const ids: number[] = [];
    // All packets that such a client gets are of 4 bytes: CONNACK and PUBACK.
    for (; rest.length >= 4; rest = rest.subarray(4)) {
      if (rest[1] !== 2) throw new Error(`a packet of ${String(rest[1])} bytes came on ${path}`);
      if (rest[0] === 0x40) ids.push(rest.readUInt16BE(2));
    }
    streams.set(path, rest);
    return ids;
  };
}
