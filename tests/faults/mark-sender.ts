import { setTimeout as wait } from 'node:timers/promises';
import mqtt, { type MqttClient } from 'mqtt';
import type { StoredBoot } from './ask-service.js';
import type { PlannedMessage } from './carriage-plan.js';

export interface MarkSenderOptions {
  readonly site: string;
  readonly carriage: string;
  /** The next message, or null if there will never be another. */
  readonly next: () => PlannedMessage | null;
  /** Messages it keeps at most; with as many it sends nothing new until the mark has passed some. */
  readonly room?: number;
  /** ms after which what was acknowledged and is not passed goes out once more. */
  readonly again?: number;
}

/**
 * A carriage that trusts no broker's acknowledgement: it keeps every message until the `stored` mark has passed all its items, and
 * sends what it keeps on every new connection, and again where the mark stays behind.
 */
export interface MarkSender {
  /** Sends until there is nothing left and the mark has passed it all. */
  run(url: string): Promise<void>;
  stop(): void;
  /** Everything that was ever sent, once, in order. */
  readonly sent: readonly PlannedMessage[];
  /** Messages that were sent more than once; those that a broker had acknowledged before. */
  resent(): number;
  resentAcknowledged(): number;
  /** Messages passed so far. */
  passed(): number;
}

interface Kept {
  readonly message: PlannedMessage;
  acknowledgedAt: number | null;
  /** Any broker has ever acknowledged it. */
  ever: boolean;
}

const passedBy = ({ first, seq, missing }: StoredBoot, own: number): boolean => {
  const highest = missing.at(-1)?.[1] ?? seq;
  return own >= first && own <= highest && !missing.some(([from, to]) => from <= own && own <= to);
};

export function createMarkSender({ site, carriage, next, room = 300, again = 3_000 }: MarkSenderOptions): MarkSender {
  const sent: PlannedMessage[] = [];
  let kept: Kept[] = [];
  let ended = false;
  let stopped = false;
  let resent = 0;
  let resentAcknowledged = 0;
  let passed = 0;
  let wake: () => void = () => undefined;

  const over = (): boolean => stopped || (ended && kept.length === 0);

  function send(client: MqttClient, entry: Kept, before: boolean): void {
    if (before) {
      resent += 1;
      if (entry.ever) resentAcknowledged += 1;
    }
    entry.acknowledgedAt = null;
    client.publish(`weld/${site}/${carriage}/${entry.message.kind}`, entry.message.payload, { qos: 1 }, (error) => {
      if (error != null) return;
      entry.acknowledgedAt = performance.now();
      entry.ever = true;
    });
  }

  function mark(payload: string): void {
    const boots = (JSON.parse(payload) as { boots: StoredBoot[] }).boots;
    kept = kept.filter(({ message }) => {
      const done = message.items.every(({ boot, seq }) => boots.some((own) => own.boot === boot && passedBy(own, seq)));
      if (!done) return true;
      passed += 1;
      return false;
    });
    wake();
  }

  async function session(url: string): Promise<void> {
    const client = mqtt.connect(url, { reconnectPeriod: 0, clientId: `mark-${carriage}`, connectTimeout: 5_000 });
    const state = { open: false, closed: false };
    client.on('connect', () => {
      client.subscribe(`weld/${site}/${carriage}/stored`, { qos: 1 }, (error) => {
        state.open = error === null;
        wake();
      });
    });
    client.on('message', (_topic, payload) => {
      mark(payload.toString('utf8'));
    });
    client.on('error', () => undefined);
    client.on('close', () => {
      state.closed = true;
      wake();
    });
    const woken = (ms: number): Promise<void> =>
      new Promise((resolve) => {
        const late = setTimeout(resolve, ms);
        wake = () => {
          clearTimeout(late);
          resolve();
        };
      });
    while (!state.open && !state.closed && !stopped) await woken(500);
    if (state.open) for (const entry of kept) send(client, entry, true);
    while (!state.closed && !over()) {
      const now = performance.now();
      for (const entry of kept) if (entry.acknowledgedAt !== null && now - entry.acknowledgedAt > again) send(client, entry, true);
      for (let burst = 0; burst < 6 && kept.length < room && !ended; burst += 1) {
        const message = next();
        if (message === null) {
          ended = true;
          break;
        }
        const entry: Kept = { message, acknowledgedAt: null, ever: false };
        kept.push(entry);
        sent.push(message);
        send(client, entry, false);
      }
      await (kept.length < room && !ended ? wait(10) : woken(250));
    }
    await client.endAsync(true);
  }

  return {
    sent,
    resent: () => resent,
    resentAcknowledged: () => resentAcknowledged,
    passed: () => passed,
    stop: () => {
      stopped = true;
      wake();
    },
    run: async (url) => {
      while (!over()) {
        await session(url);
        if (!over()) await wait(50);
      }
    },
  };
}
