import type { SimulatedMessage } from './simulated-carriage.js';

/** What the `stored` topic says of one boot: all from `first` to `seq` is safe; `missing` are the holes above `seq`. */
export interface StoredMark {
  readonly first: number;
  readonly seq: number;
  readonly missing: readonly (readonly [number, number])[];
}

export interface KeptMessage {
  readonly message: SimulatedMessage;
  state: 'waiting' | 'sent' | 'acknowledged';
  /** ms of a steady clock at the first acknowledgement. */
  acknowledgedAt: number | null;
  sentAgain: boolean;
}

/** The memory of a carriage: what it may have to send again. `now` is always ms of a steady clock. */
export interface KeptMessages {
  /** Whether one more message is accepted; false holds the carriage back until something has been stored. */
  hasRoom(): boolean;
  add(message: SimulatedMessage): void;
  /** The oldest one not yet sent on this connection. */
  nextToSend(): KeptMessage | undefined;
  acknowledged(kept: KeptMessage, now: number): void;
  stored(mark: StoredMark, now: number): void;
  /** Marks everything kept for sending again. */
  connectionLost(): void;
  readonly size: number;
}

/** Bounds of the memory of one carriage. */
export const mostKept = 5000;
export const mostKeptBytes = 8 * 1024 * 1024;
/** ms after which an acknowledged seq that is reported missing is sent once more, and after which it is given up as refused unread. */
const sendAgainAfter = 10_000;
const giveUpAfter = 60_000;

export function createKeptMessages(): KeptMessages {
  let kept: KeptMessage[] = [];
  let bytes = 0;
  let marked = false;
  /** No item before this place is waiting. */
  let place = 0;

  const keepOnly = (wanted: (entry: KeptMessage) => boolean): void => {
    kept = kept.filter(wanted);
    place = 0;
    bytes = kept.reduce((sum, entry) => sum + entry.message.payload.length, 0);
  };
  const isFull = (): boolean => kept.length >= mostKept || bytes >= mostKeptBytes;

  return {
    hasRoom: () => {
      // Without any mark, no service stores here, as at a plain broker: then the acknowledgement is all there is to wait for.
      if (isFull() && !marked) keepOnly((entry) => entry.state !== 'acknowledged');
      return !isFull();
    },
    add: (message) => {
      kept.push({ message, state: 'waiting', acknowledgedAt: null, sentAgain: false });
      bytes += message.payload.length;
    },
    nextToSend: () => {
      while (place < kept.length && kept[place]?.state !== 'waiting') place += 1;
      return kept[place];
    },
    acknowledged: (entry, now) => {
      entry.state = 'acknowledged';
      entry.acknowledgedAt ??= now;
      if (entry.message.seq === null) keepOnly((other) => other !== entry);
    },
    stored: (mark, now) => {
      marked = true;
      const highest = mark.missing.at(-1)?.[1] ?? mark.seq;
      keepOnly((entry) => {
        const { seq } = entry.message;
        if (seq === null || seq < mark.first || seq > highest) return true;
        if (!mark.missing.some(([from, to]) => from <= seq && seq <= to)) return false;
        if (entry.acknowledgedAt === null) return true;
        if (now - entry.acknowledgedAt >= giveUpAfter) return false;
        if (now - entry.acknowledgedAt >= sendAgainAfter && !entry.sentAgain && entry.state === 'acknowledged') {
          entry.sentAgain = true;
          entry.state = 'waiting';
        }
        return true;
      });
    },
    connectionLost: () => {
      for (const entry of kept) entry.state = 'waiting';
      place = 0;
    },
    get size() {
      return kept.length;
    },
  };
}

/** The mark of `boot` in the payload of a `stored` topic, or null if there is none or it cannot be read. */
export function readStoredMark(payload: string, boot: string): StoredMark | null {
  let value: unknown;
  try {
    value = JSON.parse(payload);
  } catch {
    return null;
  }
  const boots = field(value, 'boots');
  if (!Array.isArray(boots)) return null;
  const own: unknown = boots.find((entry: unknown) => field(entry, 'boot') === boot);
  const first = field(own, 'first');
  const seq = field(own, 'seq');
  const missing = field(own, 'missing');
  if (typeof first !== 'number' || typeof seq !== 'number') return null;
  return { first, seq, missing: Array.isArray(missing) ? missing.filter(isRange) : [] };
}

function field(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (Object.getOwnPropertyDescriptor(value, name)?.value as unknown) : undefined;
}

function isRange(value: unknown): value is readonly [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every((end) => typeof end === 'number');
}
