/** A byte buffer that grows as it is written. */
export interface ByteSink {
  byte(value: number): void;
  /** Reserves `length` zeroed bytes, which the caller must fill before the next call. */
  room(length: number): Uint8Array;
  bytes(): Uint8Array;
}

export function byteSink(): ByteSink {
  let buffer = new Uint8Array(16_384);
  let used = 0;
  const grow = (more: number): void => {
    if (used + more <= buffer.length) return;
    const larger = new Uint8Array(Math.max(buffer.length * 2, used + more));
    larger.set(buffer.subarray(0, used));
    buffer = larger;
  };
  return {
    byte(value) {
      grow(1);
      buffer[used] = value;
      used += 1;
    },
    room(length) {
      grow(length);
      used += length;
      return buffer.subarray(used - length, used);
    },
    bytes: () => buffer.subarray(0, used),
  };
}

/** Reads bytes from front to back; reading past the end throws an error that says so. */
export interface ByteSource {
  byte(): number;
  take(length: number): Uint8Array;
  /** Whether all bytes have been read. */
  ended(): boolean;
}

export function byteSource(bytes: Uint8Array): ByteSource {
  let place = 0;
  const take = (length: number): Uint8Array => {
    if (place + length > bytes.length) throw new Error(`packed rows are damaged: they end after ${bytes.length} bytes, more are announced`);
    place += length;
    return bytes.subarray(place - length, place);
  };
  return { byte: () => take(1)[0] ?? 0, take, ended: () => place === bytes.length };
}
