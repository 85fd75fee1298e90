/** How much may be unacknowledged at a time; bytes are the remaining lengths of the packets. */
export interface AdmissionLimits {
  readonly messages: number;
  readonly bytes: number;
  readonly clientMessages: number;
  readonly clientBytes: number;
}

/**
 * A single client may fill an eighth of the bytes: its waiting messages are handled before its next ones, and samples cost time in proportion to
 * their bytes. A client with next to nothing unacknowledged is admitted even if others have filled everything.
 */
export const ADMISSION_LIMITS: AdmissionLimits = {
  messages: 4_000,
  bytes: 16 * 1024 * 1024,
  clientMessages: 2_000,
  clientBytes: 2 * 1024 * 1024,
};

/** The part of the total that each client may have unacknowledged whatever the others have: 8 messages and 16 KiB. */
const reservedMessages = 1 / 500;
const reservedBytes = 1 / 1024;

/** One client's share. A message is admitted, then handed on, then settled. */
export interface Share {
  /** Whether a message of this many bytes may be read now; if not, `onRoom` is called when it is worth asking again. */
  admit(bytes: number): boolean;
  /** An admitted message reached the recorder (or a will, which is not admitted). Returns the function that settles it. */
  hand(bytes: number): () => void;
  /** The client is gone. What was admitted and never handed on is given back; what was handed on stays until it is settled. */
  leave(): void;
}

export interface Admission {
  join(onRoom: () => void): Share;
  /** While `on`, nothing is admitted. */
  hold(on: boolean): void;
  unsettled(): { readonly messages: number; readonly bytes: number };
}

/** A count with an upper limit: once it is reached, there is no room until half of it is free again. */
function level(mostMessages: number, mostBytes: number) {
  let messages = 0;
  let bytes = 0;
  let full = false;
  return {
    fits(more: number): boolean {
      // The first message always fits, however long it is; otherwise it could never be read.
      if (!full && messages > 0 && (messages + 1 > mostMessages || bytes + more > mostBytes)) full = true;
      return !full;
    },
    add(count: number, size: number): void {
      messages += count;
      bytes += size;
    },
    /** Gives room back; true if there is room again that there was not before. */
    giveBack(count: number, size: number): boolean {
      messages -= count;
      bytes -= size;
      if (!full || messages > mostMessages / 2 || bytes > mostBytes / 2) return false;
      full = false;
      return true;
    },
    now: () => ({ messages, bytes }),
  };
}

/** Bounds the memory of messages that were read and are not committed, in total and for each client. Pure bookkeeping. */
export function admission(limits: AdmissionLimits): Admission {
  const total = level(limits.messages, limits.bytes);
  let members: (() => void)[] = [];
  let held = false;

  function roomForAll(): void {
    const first = members.shift();
    // The first client is last the next time: otherwise the last of many flooding clients would never get a turn.
    if (first !== undefined) members.push(first);
    for (const onRoom of [...members]) onRoom();
  }

  return {
    join(onRoom) {
      const own = level(limits.clientMessages, limits.clientBytes);
      let waiting = 0;
      let waitingBytes = 0;
      members.push(onRoom);

      function giveBack(count: number, size: number): void {
        const ownRoom = own.giveBack(count, size);
        if (total.giveBack(count, size)) roomForAll();
        else if (ownRoom) onRoom();
      }

      function isReserved(bytes: number): boolean {
        const now = own.now();
        return now.messages < Math.floor(limits.messages * reservedMessages) && now.bytes + bytes <= limits.bytes * reservedBytes;
      }

      return {
        admit(bytes) {
          if (held || !(total.fits(bytes) || isReserved(bytes)) || !own.fits(bytes)) return false;
          total.add(1, bytes);
          own.add(1, bytes);
          waiting += 1;
          waitingBytes += bytes;
          return true;
        },
        hand(bytes) {
          if (waiting > 0) {
            waiting -= 1;
            waitingBytes -= bytes;
          } else {
            total.add(1, bytes);
            own.add(1, bytes);
          }
          let settled = false;
          return () => {
            if (settled) return;
            settled = true;
            giveBack(1, bytes);
          };
        },
        leave() {
          members = members.filter((member) => member !== onRoom);
          const [count, size] = [waiting, waitingBytes];
          waiting = 0;
          waitingBytes = 0;
          giveBack(count, size);
        },
      };
    },
    hold(on) {
      held = on;
      if (!on) roomForAll();
    },
    unsettled: total.now,
  };
}
