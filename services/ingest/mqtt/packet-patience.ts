import { CONNECT, PUBLISH, type Piece } from './packet-frames.js';

/**
 * Longest packet other than a PUBLISH, bytes of remaining length. A CONNECT may contain five strings or payloads of up to 65,535 bytes (client id,
 * topic and payload of the will, name, password), MQTT 3.1.1, 3.1.3; nothing else that a carriage sends comes near it.
 */
const LONGEST_CONNECT = 330 * 1024;
const LONGEST_OTHER = 256 * 1024;

/** Time in which a packet has to be complete, ms; a long one gets a second more for each `SLOWEST` bytes. A slow radio link is faster. */
export const PACKET_WITHIN = 30_000;
const SLOWEST = 16 * 1024;

/** Throws if a packet is longer than its kind may be. The admission decides how much of a PUBLISH may be read. */
export function checkLength({ type, length }: Piece): void {
  if (type === PUBLISH) return;
  const most = type === CONNECT ? LONGEST_CONNECT : LONGEST_OTHER;
  if (length > most) throw new Error(`a packet of type ${type} with ${length} bytes, at most ${most}`);
}

export interface PacketPatience {
  /** Called with each piece as it is read. */
  read(piece: Piece): void;
  stop(): void;
}

/** Calls `late` if a packet that has begun is not complete in time, at least `shortest` ms; never while the socket is not read (`paused`). */
export function packetPatience(paused: () => boolean, late: (reason: string) => void, shortest: number): PacketPatience {
  let timer: NodeJS.Timeout | null = null;
  const stop = (): void => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
  };
  return {
    read({ first, last, length }) {
      if (last) stop();
      else if (first) {
        const within = shortest + (length / SLOWEST) * 1_000;
        timer = setTimeout(() => {
          if (paused()) timer?.refresh();
          else late(`a packet of ${length} bytes was not complete after ${Math.round(within / 1_000)} s`);
        }, within);
      }
    },
    stop,
  };
}
