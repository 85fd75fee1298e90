import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import type { PlannedMessage } from './carriage-plan.js';
import { identityOf } from './kept-items.js';

export interface SenderOptions {
  readonly site: string;
  readonly carriage: string;
  /** The next message, or null if there will never be another. */
  readonly next: () => PlannedMessage | null;
  /** Most messages without acknowledgement. */
  readonly window?: number;
  /** Messages that are sent before it rests for 10 ms. */
  readonly burst?: number;
  /** While it returns true, nothing new is sent; it gets the newest seq that was sent, -1 before the first. */
  readonly held?: (newest: number) => boolean;
  /** s of silence after which it asks whether the broker is still there, and ms that it waits for a connection. */
  readonly keepalive?: number;
  readonly connectTimeout?: number;
}

/** Readings acknowledged last that go out once more after a connection was lost, as if their PUBACKs had been lost with it. */
const doubted = 20;

/** A carriage as the interface asks for it: it keeps what was not acknowledged, and sends that again when it is back. */
export interface Sender {
  /** Sends until there is nothing left and all is acknowledged, over as many connections as it takes. */
  run(url: () => string | null): Promise<void>;
  /** Gives up: nothing more is sent, and `run` ends. */
  stop(): void;
  /** Items that were acknowledged: identity and JSON. */
  readonly acknowledged: ReadonlyMap<string, string>;
  /** Everything that was ever sent, once, in order. */
  readonly sent: readonly PlannedMessage[];
  /** Messages that were sent more than once. */
  resent(): number;
  /** ms since 1970 of the newest acknowledgement, 0 before the first. */
  acknowledgedAt(): number;
}

export function createSender({ site, carriage, next, window = 100, burst = 8, held = () => false, keepalive = 60, connectTimeout = 5_000 }: SenderOptions): Sender {
  const acknowledged = new Map<string, string>();
  const sent: PlannedMessage[] = [];
  let outstanding: PlannedMessage[] = [];
  let newest: PlannedMessage[] = [];
  let waiting: PlannedMessage | null = null;
  let ended = false;
  let stopped = false;
  let leave: () => void = () => undefined;
  let resent = 0;
  let acknowledgedAt = 0;

  const nothingLeft = (): boolean => {
    if (stopped) return true;
    if (!ended) waiting ??= next();
    if (waiting === null) ended = true;
    return ended && outstanding.length === 0;
  };

  /** An assignment holds from just after what was received before it, so it travels alone. */
  const mayGo = (message: PlannedMessage): boolean => {
    if (message.kind === 'assignment') return outstanding.length === 0;
    return outstanding.length < window && outstanding[0]?.kind !== 'assignment';
  };

  async function session(url: string): Promise<void> {
    const client = mqtt.connect(url, { reconnectPeriod: 0, clientId: `sender-${carriage}`, keepalive, connectTimeout });
    let wake: () => void = () => undefined;
    const state = { open: false, closed: false };
    client.on('connect', () => {
      state.open = true;
      wake();
    });
    client.on('error', () => undefined);
    client.on('close', () => {
      state.closed = true;
      wake();
    });
    const publish = (message: PlannedMessage, dup: boolean): void => {
      client.publish(`weld/${site}/${carriage}/${message.kind}`, message.payload, { qos: 1, dup }, (error) => {
        // MQTT.js calls back without an error when the PUBACK has come, and only then.
        if (error != null) return;
        acknowledgedAt = Date.now();
        outstanding = outstanding.filter((own) => own !== message);
        if (message.kind === 'readings' && !newest.includes(message)) newest = [...newest, message].slice(-doubted);
        for (const item of message.items) acknowledged.set(identityOf(site, carriage, item), JSON.stringify(item));
        wake();
      });
    };
    leave = () => {
      wake();
    };
    const woken = (): Promise<void> => new Promise((resolve) => (wake = resolve));
    while (!state.open && !state.closed && !stopped) await woken();
    if (state.open) {
      const again = [...newest, ...outstanding];
      resent += again.length;
      for (const message of again) publish(message, true);
    }
    let inBurst = 0;
    while (!state.closed && !nothingLeft()) {
      if (held(sent.findLast(({ items }) => items.length > 0)?.items.at(-1)?.seq ?? -1)) {
        await wait(50);
        continue;
      }
      if (waiting === null || !mayGo(waiting)) {
        await woken();
        continue;
      }
      const message = waiting;
      waiting = null;
      outstanding.push(message);
      sent.push(message);
      publish(message, false);
      inBurst += 1;
      if (inBurst % burst === 0) await wait(10);
    }
    await client.endAsync(true);
  }

  return {
    acknowledged,
    sent,
    resent: () => resent,
    acknowledgedAt: () => acknowledgedAt,
    stop: () => {
      stopped = true;
      leave();
    },
    run: async (url) => {
      while (!nothingLeft()) {
        const now = url();
        if (now !== null) await session(now);
        if (!nothingLeft()) await wait(50);
      }
    },
  };
}
